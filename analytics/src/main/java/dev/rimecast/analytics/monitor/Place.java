package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.AmbientEstimate;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import java.util.OptionalDouble;

/**
 * The conditions of the place: from its sensors, else from the condenser at rest (out of doors by how warm that is when it runs), and water from the season and from what
 * sensors of the site's other machines, or all of them together, show of how it goes; each with source and spread.
 */
final class Place {
    private static final String SENSOR = Conditions.SENSOR;
    private static final String SEASON = "season";
    private static final String UNKNOWN = "";
    private static final double DAY_MILLIS = 86_400_000;
    private static final double WATER_MILLIS = 0.5 * DAY_MILLIS;
    /** What was known of the water before a rest of months is not known any more. */
    private static final double AGE_MILLIS = 3 * DAY_MILLIS;

    /** Less than an hour of it is worth. */
    private static final double LEAST_WEIGHT = 0.04;

    /** Half a day of it has been seen. */
    private static final double LEAST_OF_SITE = 0.6;

    /** Any number does, so long as it stays: each machine learns what it does at the air that comes of it. */
    private static final double SPLIT_OUT_OF_DOORS_KELVIN = 15;

    /** Pipes of one site differ by so much with the rooms that they run through, and so do sensors that take turns [common practice]. */
    private static final double OF_SITE_SPREAD_KELVIN = 1;

    private static final double LEARNED_DAYS = 20;

    private static final long STOOD_MILLIS = 3_600_000;
    /** From this layout of a machine's state on it has the weight of its water. */
    private static final int WITH_WEIGHT = 16;

    private static final double MINUTES = 60;
    private static final double DAYS_OF_YEAR = 365.25;

    private static final long NONE = Long.MIN_VALUE;

    private AmbientEstimate estimate = new AmbientEstimate();
    private double water;
    /** How much of the mean's time has been seen, 0 to 1. */
    private double waterWeight;

    private long waterAt = NONE;

    /** Takes a reading of the condenser; returns whether it is the room's temperature, too, since the machine rests. */
    boolean condenser(double celsius, long millis) {
        return estimate.condenser(celsius, millis);
    }

    /** Whether the condenser says that the compressor does not run. */
    boolean isAtRest() {
        return estimate.isAtRest();
    }

    /**
     * The room as the condenser had it when the machine rested last.
     *
     * @param hours how long before; 0 where it is not known
     */
    record Rest(OptionalDouble celsius, double hours) {}

    Rest rest(long millis) {
        OptionalDouble rested = estimate.lastRest(millis);
        return new Rest(rested, rested.isPresent() ? estimate.ageHours(millis) : 0);
    }

    /**
     * @param cooling where the condenser stands: one out of doors knows nothing of the room, and the sensor there nothing of its air
     * @param waterShift by how much the site's water is warmer than the season's, K: {@link SiteWater}
     */
    Conditions during(RawCycle cycle, Rest rest, Cooling cooling, SiteWater.Shift waterShift, GroupPolicy policy) {
        cycle.condensingEndCelsius().ifPresent(estimate::ran);
        double air = Conditions.REFERENCE_AMBIENT_CELSIUS;
        double airSpread = policy.get(PolicyNumber.AMBIENT_UNKNOWN_SPREAD_KELVIN);
        String airSource = UNKNOWN;
        if (cooling == Cooling.REMOTE) {
            if (cycle.condensingEndCelsius().isPresent()) {
                air = cycle.condensingEndCelsius().getAsDouble() - SPLIT_OUT_OF_DOORS_KELVIN;
                airSpread = policy.get(PolicyNumber.AMBIENT_ESTIMATE_SPREAD_KELVIN);
                airSource = Conditions.CONDENSING;
            }
        } else if (cycle.ambientCelsius().isPresent()) {
            air = cycle.ambientCelsius().getAsDouble();
            airSpread = policy.get(PolicyNumber.PLACE_SENSOR_SPREAD_KELVIN);
            airSource = SENSOR;
        } else if (rest.celsius().isPresent()) {
            air = rest.celsius().getAsDouble();
            airSpread = policy.get(PolicyNumber.AMBIENT_ESTIMATE_SPREAD_KELVIN);
            airSource = rest.hours() <= policy.get(PolicyNumber.REST_HOLDS_MINUTES) / MINUTES
                    ? Conditions.AT_REST
                    : Conditions.CONDENSER;
        }
        if (cycle.waterCelsius().isEmpty()) {
            // What it learned by a sensor of its own is held to what that showed, and the site's is only how it goes.
            boolean isOfSite = waterShift.isMeasured() && !isWaterMeasured();
            double unknown = policy.get(PolicyNumber.WATER_UNKNOWN_SPREAD_KELVIN);
            double spread = isOfSite ? spreadOfSite(waterShift.days(), unknown) : unknown;
            double shift = isWaterMeasured() ? 0 : waterShift.kelvin();
            double season = waterOfSeason(cycle.freezeStartMillis(), policy) + shift;
            return new Conditions(air, airSpread, airSource, season, spread, isOfSite ? Conditions.OF_SITE : SEASON);
        }
        double spread = policy.get(PolicyNumber.PLACE_SENSOR_SPREAD_KELVIN);
        followWater(cycle.waterCelsius().getAsDouble(), cycle);
        return new Conditions(air, airSpread, airSource, water, spread, SENSOR);
    }

    /** Which water that was is learned with the machine's cycles, and what was learned before by the season with them. */
    private static double spreadOfSite(int days, double unknown) {
        double known = Math.min(1, days / LEARNED_DAYS);
        return unknown - known * Math.max(0, unknown - OF_SITE_SPREAD_KELVIN);
    }

    /**
     * Mains water changes over days. What a cycle says of it is the reading nearest to the water that was drawn; that still
     * leans to the room where a machine draws little. So the mean of about half a day is what its cycles are held to. The first
     * cycle after a rest may show what stood in the pipe: the time of the rest doesn't count for it, and the first of all, or after
     * so long a rest that nothing is known any more, is no more than a stand-in. Otherwise a machine's first day shows water that gets colder by kelvins and cycles that don't
     * mind, and that is what it would learn.
     */
    private void followWater(double celsius, RawCycle cycle) {
        long millis = cycle.freezeStartMillis();
        boolean hasStood = cycle.cyclesSinceRest() == 0;
        long passed = waterAt == NONE ? 0 : Math.max(0, millis - waterAt);
        double known = waterWeight * StrictMath.exp(-passed / AGE_MILLIS);
        if (known < LEAST_WEIGHT) {
            boolean isStandIn = hasStood && (waterAt == NONE || waterWeight > 0);
            water = celsius;
            waterWeight = isStandIn ? 0 : share(STOOD_MILLIS);
        } else {
            double share = share(hasStood ? Math.min(passed, STOOD_MILLIS) : passed);
            waterWeight = known * (1 - share) + share;
            water += share / waterWeight * (celsius - water);
        }
        waterAt = millis;
    }

    private static double share(long millis) {
        return 1 - StrictMath.exp(-millis / WATER_MILLIS);
    }

    /** By how much the water of a cycle with a sensor is warmer than the season's, K; empty where what it shows has stood or is only a stand-in. */
    OptionalDouble warmerThanSeason(RawCycle cycle, GroupPolicy policy) {
        return cycle.waterCelsius().isPresent() && waterWeight >= LEAST_OF_SITE
                ? OptionalDouble.of(water - waterOfSeason(cycle.freezeStartMillis(), policy))
                : OptionalDouble.empty();
    }

    /** Whether a sensor ever told the water. */
    boolean isWaterMeasured() {
        return waterAt != NONE;
    }

    /** Mains water follows the year in a wave (domain range: 5 K to either side where it comes through the ground). */
    private static double waterOfSeason(long millis, GroupPolicy policy) {
        double days = millis / DAY_MILLIS - policy.get(PolicyNumber.WATER_SEASON_PEAK_DAY) + 1;
        double wave = StrictMath.cos(2 * StrictMath.PI * days / DAYS_OF_YEAR);
        return Conditions.REFERENCE_WATER_CELSIUS + policy.get(PolicyNumber.WATER_SEASON_KELVIN) * wave;
    }

    void save(StateWriter out) {
        estimate.save(out);
        out.real(water).time(waterAt).real(waterWeight);
    }

    static Place restore(StateReader in) {
        Place place = new Place();
        place.estimate = AmbientEstimate.restore(in);
        place.water = in.real();
        place.waterAt = in.time();
        place.waterWeight = in.hasLayout(WITH_WEIGHT) ? in.real() : place.isWaterMeasured() ? 1 : 0;
        return place;
    }
}
