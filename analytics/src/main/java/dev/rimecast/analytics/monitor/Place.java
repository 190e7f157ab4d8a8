package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.AmbientEstimate;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.OptionalDouble;

/** The conditions of the place: from its sensors, else from the condenser at rest, each with source and spread. */
final class Place {
    private static final String SENSOR = "sensor";
    private static final String AT_REST = "condenser-at-rest";
    private static final String DAILY_SHAPE = "daily-shape";
    private static final String UNKNOWN = "";
    private static final double FRESH_HOURS = 8;
    /** An old rest is so much less sure than a fresh one. */
    private static final double OLD_FACTOR = 1.6;

    private AmbientEstimate estimate = new AmbientEstimate();

    void condenser(double celsius, long millis) {
        estimate.condenser(celsius, millis);
    }

    /** Whether the condenser says that the compressor does not run. */
    boolean isAtRest() {
        return estimate.isAtRest();
    }

    Conditions during(RawCycle cycle, GroupPolicy policy) {
        cycle.condensingEndCelsius().ifPresent(estimate::ran);
        double air = Conditions.REFERENCE_AMBIENT_CELSIUS;
        double airSpread = policy.get(PolicyNumber.AMBIENT_UNKNOWN_SPREAD_KELVIN);
        String airSource = UNKNOWN;
        OptionalDouble estimated = estimate.at(cycle.freezeStartMillis());
        if (cycle.ambientCelsius().isPresent()) {
            air = cycle.ambientCelsius().getAsDouble();
            airSpread = policy.get(PolicyNumber.PLACE_SENSOR_SPREAD_KELVIN);
            airSource = SENSOR;
        } else if (estimated.isPresent()) {
            air = estimated.getAsDouble();
            boolean isFresh = estimate.ageHours(cycle.freezeStartMillis()) <= FRESH_HOURS;
            airSpread = policy.get(PolicyNumber.AMBIENT_ESTIMATE_SPREAD_KELVIN) * (isFresh ? 1 : OLD_FACTOR);
            airSource = isFresh ? AT_REST : DAILY_SHAPE;
        }
        if (cycle.waterCelsius().isEmpty()) {
            double spread = policy.get(PolicyNumber.WATER_UNKNOWN_SPREAD_KELVIN);
            return new Conditions(air, airSpread, airSource, Conditions.REFERENCE_WATER_CELSIUS, spread, UNKNOWN);
        }
        double spread = policy.get(PolicyNumber.PLACE_SENSOR_SPREAD_KELVIN);
        return new Conditions(air, airSpread, airSource, cycle.waterCelsius().getAsDouble(), spread, SENSOR);
    }

    void save(StateWriter out) {
        estimate.save(out);
    }

    static Place restore(StateReader in) {
        Place place = new Place();
        place.estimate = AmbientEstimate.restore(in);
        return place;
    }
}
