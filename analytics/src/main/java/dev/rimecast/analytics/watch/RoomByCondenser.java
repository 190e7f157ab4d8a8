package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.expect.Expected;
import dev.rimecast.analytics.policy.FeatureNumber;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Feature;
import java.util.Optional;

/**
 * The room of a machine without an ambient sensor, from rest to rest: a random walk (Kalman filter of one state, e.g. Särkkä
 * 2013, section 4.3) that is seen in two ways. At rest the condenser is the room. While the machine runs, its condensing
 * temperature less the split that it has these days is the room; so a kitchen that gets hot over noon is followed though no
 * machine rests.
 *
 * <p>The split itself is judged only right after a rest, by that rest alone ({@link CycleFeatures}): by this estimate, which
 * takes the split as known, no condenser would ever be found fouled. What those cycles say of the split as it now is goes in
 * here, so that a fouled condenser is not taken for a warm room either.
 */
final class RoomByCondenser {
    /** K: what a condenser at rest is beside the room. */
    private static final double ERROR_AT_REST = 0.5;
    /** Cycles after which the split is known well enough to tell the room. */
    private static final int FEWEST_CYCLES = 6;

    private static final double MOST_VARIANCE = 25;
    private static final double HOUR_MILLIS = 3_600_000;
    private static final long NONE = Long.MIN_VALUE;

    private float celsius;
    private float variance;
    private long at = NONE;

    /** What the room was in this cycle: measured where there is a sensor, else the best estimate. */
    Conditions during(RawCycle raw, Conditions measured, Optional<Watched> split, GroupPolicy policy) {
        if (measured.hasSensor() || !measured.hasAmbient()) {
            at = NONE;
            return measured;
        }
        wander(raw.endMillis(), policy);
        if (measured.hasFreshAmbient() || at == NONE) {
            see(measured.ambientCelsius(), ERROR_AT_REST * ERROR_AT_REST + wanderPerHour(policy) / 2);
        }
        at = raw.endMillis();
        if (split.isPresent() && raw.condensingEndCelsius().isPresent()) {
            running(raw.condensingEndCelsius().getAsDouble(), measured, split.get(), policy);
        }
        return measured.withAmbient(
                celsius, policy.get(PolicyNumber.AMBIENT_ESTIMATE_SPREAD_KELVIN), measured.ambientSource());
    }

    private static double wanderPerHour(GroupPolicy policy) {
        double kelvin = policy.get(PolicyNumber.ROOM_WANDER_KELVIN);
        return kelvin * kelvin;
    }

    private void wander(long millis, GroupPolicy policy) {
        if (at != NONE) {
            double hours = StrictMath.max(0, millis - at) / HOUR_MILLIS;
            variance = (float) StrictMath.min(MOST_VARIANCE, variance + hours * wanderPerHour(policy));
        }
    }

    private void running(double condensing, Conditions measured, Watched split, GroupPolicy policy) {
        if (split.cycles() < FEWEST_CYCLES) {
            return;
        }
        Conditions here = measured.withAmbient(celsius, 0, measured.ambientSource());
        Expected expected = split.expect(here, policy);
        double now = expected.mean() + (split.hasLevel() ? split.level() : 0);
        double noise = policy.get(Feature.SPLIT, FeatureNumber.NOISE);
        see(condensing - now, noise * noise + expected.unsure());
    }

    private void see(double value, double error) {
        double gain = at == NONE ? 1 : variance / (variance + error);
        celsius += (float) (gain * (value - celsius));
        variance = (float) (at == NONE ? error : (1 - gain) * variance);
    }

    void save(StateWriter out) {
        out.real32(celsius).real32(variance).time(at);
    }

    static RoomByCondenser restore(StateReader in) {
        RoomByCondenser room = new RoomByCondenser();
        room.celsius = in.real32();
        room.variance = in.real32();
        room.at = in.time();
        return room;
    }
}
