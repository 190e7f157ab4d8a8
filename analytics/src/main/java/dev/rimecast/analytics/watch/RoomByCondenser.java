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
 * <p>The split itself is judged only right after a rest, by that rest alone: by this estimate, which takes the split as known,
 * no condenser would ever be found fouled. What those cycles say of the split as it now is goes in here, so that a fouled
 * condenser is not taken for a warm room either. But a condensing temperature that leaps further than any room does is the
 * machine's own, and is judged at once.
 *
 * <p>A condenser out of doors is in no room: its air is what its own temperature says.
 */
final class RoomByCondenser {
    /** K: what a condenser at rest is beside the room. */
    private static final double ERROR_AT_REST = 0.5;
    /** Cycles after which the split is known well enough to tell the room. */
    private static final int FEWEST_CYCLES = 2;

    /** Standard deviations beyond which a change is not of the room: a fan has stopped, the warm air comes back. */
    private static final double GATE = 4;

    /** What is beyond the gate has been allowed all that may be wrong in the room. */
    private static final double ALLOWED_FOR = 0;

    /** Most machines rest within a day, and then the split is seen again. */
    private static final long AFTER_WORK_MILLIS = 86_400_000L;

    /** Of what is worth a finding: with less, work on the machine has not changed its split by much. */
    private static final double WORTH_WORK_SHARE = 0.5;

    private static final double MOST_VARIANCE = 25;
    private static final double HOUR_MILLIS = 3_600_000;
    private static final long NONE = Long.MIN_VALUE;

    private float celsius;
    private float variance;
    private long at = NONE;

    /**
     * @param place what the cycle is judged by
     * @param ofSplit what its split is judged by; empty where the room is not known but for the split itself
     */
    record Room(Conditions place, Optional<Conditions> ofSplit) {}

    /**
     * What the room was in this cycle: measured where there is a sensor, else the best estimate.
     *
     * @param workedAt when somebody last worked on the machine, {@link Long#MIN_VALUE} if never: what the split was before says nothing then
     */
    Room during(RawCycle raw, Conditions measured, Optional<Watched> split, long workedAt, GroupPolicy policy) {
        if (measured.hasSensor() || measured.isOutOfDoors() || !measured.hasAmbient()) {
            at = NONE;
            return new Room(measured, measured.hasSensor() ? Optional.of(measured) : Optional.empty());
        }
        wander(raw.endMillis(), policy);
        if (measured.hasFreshAmbient()) {
            see(measured.ambientCelsius(), ERROR_AT_REST * ERROR_AT_REST + wanderPerHour(policy) / 2);
        } else if (at == NONE) {
            see(measured.ambientCelsius(), MOST_VARIANCE);
        }
        at = raw.endMillis();
        Conditions before = measured.withAmbient(celsius, ALLOWED_FOR, measured.ambientSource());
        boolean isLeap =
                split.filter(one -> isLeap(raw, before, one, workedAt, policy)).isPresent();
        // Before the split is known, hours may have passed since the room was last seen.
        double spread =
                StrictMath.max(policy.get(PolicyNumber.AMBIENT_ESTIMATE_SPREAD_KELVIN), StrictMath.sqrt(variance));
        Conditions place = measured.withAmbient(celsius, spread, measured.ambientSource());
        return new Room(
                place,
                measured.hasFreshAmbient()
                        ? Optional.of(measured)
                        : Optional.of(before).filter(b -> isLeap));
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

    /** Takes what a running machine says of the room, unless no room changes so fast; returns whether that is so. */
    private boolean isLeap(RawCycle raw, Conditions before, Watched split, long workedAt, GroupPolicy policy) {
        if (!raw.complete() || raw.condensingEndCelsius().isEmpty() || split.cycles() < FEWEST_CYCLES) {
            return false;
        }
        boolean isAfterWork = workedAt != NONE
                && raw.endMillis() - workedAt <= AFTER_WORK_MILLIS
                && split.hasLevel()
                && StrictMath.abs(split.level()) >= WORTH_WORK_SHARE * split.material(policy);
        if (isAfterWork && split.track().lastMillis() <= workedAt) {
            // A condenser that was cleaned would be taken for a room that is colder, and the freeze for too long in it.
            return false;
        }
        Expected expected = split.expect(before, policy);
        double level = isAfterWork ? split.newest() : split.hasLevel() ? split.level() : 0;
        double splitNow = expected.mean() + level;
        double room = raw.condensingEndCelsius().getAsDouble() - splitNow;
        double noise = policy.get(Feature.SPLIT, FeatureNumber.NOISE);
        double error = noise * noise + expected.unsure();
        if (StrictMath.abs(room - celsius) > GATE * StrictMath.sqrt(variance + error)) {
            return true;
        }
        see(room, error);
        return false;
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
