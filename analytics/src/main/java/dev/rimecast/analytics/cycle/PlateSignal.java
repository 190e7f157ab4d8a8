package dev.rimecast.analytics.cycle;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/**
 * Turning points from the evaporator's temperature, with the condenser's as witness that the compressor starts.
 *
 * <p>A freeze starts where the plate falls by {@value #FALL_KELVIN} K from its highest within five minutes while the
 * condenser gets warmer. It ends where the plate, once cold, rises by {@value #RISE_KELVIN} K within five minutes: hot gas;
 * a slower rise, one that stays below {@value #HARVEST_REACHES_CELSIUS} °C, or a condenser that cools before the plate is
 * cold, is a machine that was stopped. The harvest
 * ends where the plate falls again or has not risen for {@value #PLATEAU_MILLIS} ms. A turn needs two readings beyond the
 * extreme, so that one wild value is none. All of it common practice, with values that suit batch machines (end of freeze
 * -12 to -25 °C, end of harvest about +9 °C).
 */
final class PlateSignal {
    private static final double FALL_KELVIN = 3;
    private static final double RISE_KELVIN = 4;
    /** A reading this close to the extreme has not left it: three times the noise of a usual sensor. */
    private static final double NEAR_KELVIN = 1;

    private static final double COLD_CELSIUS = -2;
    private static final double HARVEST_REACHES_CELSIUS = 2;
    /** More than noise and step of a strap-on probe, less than what a starting compressor does within a minute. */
    private static final double WITNESS_KELVIN = 3;

    /** A condenser that has cooled by this while the plate gets warmer: the compressor has stopped. */
    private static final double COOLED_KELVIN = 5;

    private static final long SLOWEST_FALL_MILLIS = 300_000;
    private static final long SLOWEST_RISE_MILLIS = 300_000;
    private static final long PLATEAU_MILLIS = 150_000;

    private enum Motion {
        RESTING,
        FALLING,
        RISING
    }

    private Motion motion = Motion.RESTING;
    private boolean begun;
    private double extreme;
    private double near;
    private long nearAt;
    /** Lowest of the condenser since the plate was near its extreme. */
    private double witness;
    /** When the condenser was last near that. */
    private long witnessAt;

    /** Highest of the condenser since the motion began. */
    private double peak;

    private double before;
    private long beforeAt;

    /** @param condenser the newest of the condenser; NaN where there is none, and then nothing is asked of it */
    void on(double plate, long millis, double condenser, Boundaries out) {
        if (!begun) {
            restart(plate, millis, condenser);
            return;
        }
        if (condenser <= witness + WITNESS_KELVIN / 4) {
            witness = Math.min(witness, condenser);
            witnessAt = millis;
        }
        switch (motion) {
            case RESTING -> resting(plate, millis, condenser, out);
            case FALLING -> falling(plate, millis, condenser, out);
            case RISING -> rising(plate, millis, condenser, out);
        }
        before = plate;
        beforeAt = millis;
    }

    /** Begins anew after a gap: a cold plate is taken to be freezing, without a known start. */
    void restart(double plate, long millis, double condenser) {
        begun = true;
        turnTo(plate < COLD_CELSIUS ? Motion.FALLING : Motion.RESTING, plate, millis, condenser);
        before = plate;
        beforeAt = millis;
    }

    /** What seemed to be a freeze was none. */
    void rest() {
        turnTo(Motion.RESTING, before, beforeAt, witness);
    }

    private void resting(double plate, long millis, double condenser, Boundaries out) {
        if (plate >= extreme - NEAR_KELVIN) {
            stay(Math.max(extreme, plate), plate, millis, condenser);
        } else if (millis - nearAt > SLOWEST_FALL_MILLIS) {
            turnTo(Motion.RESTING, plate, millis, condenser);
        } else if (extreme - plate >= FALL_KELVIN && isCompressorSeen(condenser) && beforeAt > nearAt) {
            // A resting plate drifts; the condenser tells better when the compressor started.
            out.freezeStart(Math.max(turn(plate, millis), Math.min(beforeAt, witnessAt)));
            turnTo(Motion.FALLING, plate, millis, condenser);
        }
    }

    private void falling(double plate, long millis, double condenser, Boundaries out) {
        peak = Math.max(peak, condenser);
        boolean isStopped =
                extreme > COLD_CELSIUS && plate >= extreme + NEAR_KELVIN / 2 && condenser <= peak - COOLED_KELVIN;
        if (isStopped) {
            out.interrupted(nearAt);
            turnTo(Motion.RESTING, plate, millis, condenser);
        } else if (plate <= extreme + NEAR_KELVIN) {
            stay(Math.min(extreme, plate), plate, millis, condenser);
        } else if (plate - extreme >= RISE_KELVIN && beforeAt > nearAt) {
            if (extreme <= COLD_CELSIUS && millis - nearAt <= SLOWEST_RISE_MILLIS) {
                out.freezeEnd(turn(plate, millis));
                turnTo(Motion.RISING, plate, millis, condenser);
            } else {
                out.interrupted(nearAt);
                turnTo(Motion.RESTING, plate, millis, condenser);
            }
        }
    }

    private void rising(double plate, long millis, double condenser, Boundaries out) {
        if (plate > extreme) {
            boolean isProgress = plate > extreme + NEAR_KELVIN / 2;
            extreme = plate;
            if (isProgress) {
                near = plate;
                nearAt = millis;
            }
        } else if (plate >= extreme - NEAR_KELVIN && millis - nearAt <= PLATEAU_MILLIS) {
            // Close to the top and lately risen: the turn may be here.
            near = plate;
        } else if (extreme - plate >= FALL_KELVIN && isCompressorSeen(condenser) && beforeAt > nearAt) {
            long top = turn(plate, millis);
            if (extreme < HARVEST_REACHES_CELSIUS) {
                out.interrupted(top);
            } else {
                out.harvestEnd(top);
            }
            out.freezeStart(top);
            turnTo(Motion.FALLING, plate, millis, condenser);
        } else if (millis - nearAt > PLATEAU_MILLIS) {
            if (extreme < HARVEST_REACHES_CELSIUS) {
                out.interrupted(nearAt);
            } else {
                out.harvestFaded(nearAt);
            }
            motion = Motion.RESTING;
        }
    }

    private boolean isCompressorSeen(double condenser) {
        return Double.isNaN(condenser) || condenser >= witness + WITNESS_KELVIN;
    }

    private void stay(double newExtreme, double plate, long millis, double condenser) {
        extreme = newExtreme;
        near = plate;
        nearAt = millis;
        witness = condenser;
        witnessAt = millis;
    }

    private void turnTo(Motion next, double plate, long millis, double condenser) {
        motion = next;
        peak = condenser;
        stay(plate, plate, millis, condenser);
    }

    /**
     * When the plate left its extreme: a line prolonged to the extreme. Where sampling is fine, the line from the last
     * reading near the extreme; where it is so coarse that only two readings have passed, the line through those two.
     */
    private long turn(double plate, long millis) {
        long step = millis - beforeAt;
        boolean isFine = beforeAt - nearAt > step + step / 2;
        double fromValue = isFine ? near : before;
        long fromAt = isFine ? nearAt : beforeAt;
        double slope = (plate - fromValue) / (millis - fromAt);
        double back = slope == 0 ? 0 : (fromValue - extreme) / slope;
        long earliest = isFine ? nearAt - SLOWEST_RISE_MILLIS / 5 : nearAt;
        return Math.min(beforeAt, Math.max(earliest, fromAt - Math.round(back)));
    }

    void save(StateWriter out) {
        out.u8(motion.ordinal())
                .flag(begun)
                .real(extreme)
                .real(near)
                .time(nearAt)
                .real(witness)
                .time(witnessAt)
                .real(peak);
        out.real(before).time(beforeAt);
    }

    static PlateSignal restore(StateReader in) {
        PlateSignal signal = new PlateSignal();
        signal.motion = Motion.values()[in.u8()];
        signal.begun = in.flag();
        signal.extreme = in.real();
        signal.near = in.real();
        signal.nearAt = in.time();
        signal.witness = in.real();
        signal.witnessAt = in.time();
        signal.peak = in.real();
        signal.before = in.real();
        signal.beforeAt = in.time();
        return signal;
    }
}
