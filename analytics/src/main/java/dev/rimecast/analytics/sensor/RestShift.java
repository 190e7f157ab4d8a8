package dev.rimecast.analytics.sensor;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.OptionalDouble;

/**
 * How much the difference between condenser and ambient sensor, its own or a neighbour's, after long rest has changed. After {@value #COOL_MILLIS} ms
 * without the compressor the condenser shows the room; what is left between the two sensors is their bias (ambient sensors
 * are up to 2 K off by their place) and stays the same. Each rest gives the mean of the next {@value #MEAN_MILLIS} ms in which it has settled, and
 * one more every {@value #AGAIN_MILLIS} ms.
 *
 * <p>The usual difference is the mean of the first {@value #FIRST} rests, and follows with a time constant of {@value #FOLLOWS_DAYS}
 * days as long as the distance is below {@value #FOLLOWS_KELVIN} K, so that seasons are learned, and a sensor that drifts by some
 * kelvin in weeks is not.
 */
public final class RestShift {
    private static final long COOL_MILLIS = 45 * 60_000L;
    private static final long MEAN_MILLIS = 15 * 60_000L;
    private static final long AGAIN_MILLIS = 3 * 3_600_000L;
    /**
     * By how much the last reading of a rest may be beside the mean of them: a condenser at 60 °C whose fan stands still cools for longer than
     * one that was blown cool.
     */
    private static final double SETTLED_KELVIN = 0.75;

    private static final long FRESH_MILLIS = 20 * 60_000L;
    /** Neighbours are heard of once an hour. */
    private static final long NEIGHBOUR_FRESH_MILLIS = 75 * 60_000L;

    private static final long GAP_MILLIS = 30 * 60_000L;
    private static final int FIRST = 4;
    private static final double FOLLOWS_DAYS = 60;
    private static final double MOST_GAIN = 0.03;
    private static final double DAY_MILLIS = 86_400_000;
    /** From this layout of a machine's state on it has when it rested last. */
    private static final int WITH_TIME_OF_REST = 11;

    private static final double FOLLOWS_KELVIN = 2;
    private static final double AGREE_KELVIN = 2;
    private static final long NONE = Long.MIN_VALUE;

    private boolean hasOwn;
    private double ambient = Double.NaN;
    private long ambientAt = NONE;
    private long restSince = NONE;
    private long newest = NONE;
    private double sum;
    private int readings;

    private double usual;
    private int learned;
    private double latest;
    private double before;
    private int rests;
    private long restedAt = NONE;

    void ambient(double celsius, long millis) {
        if (!hasOwn) {
            hasOwn = true;
            relearn();
        }
        ambient = celsius;
        ambientAt = millis;
    }

    /** What a neighbour in the same room says of it; used only where the machine has no ambient sensor. */
    void ambientOfNeighbour(double celsius, long millis) {
        if (!hasOwn) {
            ambient = celsius;
            ambientAt = millis;
        }
    }

    /** The machine's own ambient sensor, where it has one that was heard lately. */
    public OptionalDouble ownAmbient(long millis) {
        return hasOwn && millis - ambientAt <= NEIGHBOUR_FRESH_MILLIS
                ? OptionalDouble.of(ambient)
                : OptionalDouble.empty();
    }

    /** Takes a condenser reading; returns whether it completes what one rest says. */
    boolean condenser(double celsius, boolean compressorIsOff, long millis) {
        boolean isGap = newest != NONE && millis - newest > GAP_MILLIS;
        newest = millis;
        long fresh = hasOwn ? FRESH_MILLIS : NEIGHBOUR_FRESH_MILLIS;
        if (!compressorIsOff || isGap || ambientAt == NONE || millis - ambientAt > fresh) {
            restSince = compressorIsOff ? millis : NONE;
            forgetMean();
            return false;
        }
        if (restSince == NONE) {
            restSince = millis;
        }
        if (millis - restSince < COOL_MILLIS) {
            return false;
        }
        sum += celsius - ambient;
        readings++;
        if (millis - restSince < COOL_MILLIS + MEAN_MILLIS) {
            return false;
        }
        double mean = sum / readings;
        if (readings == 1) {
            return false;
        }
        if (StrictMath.abs(celsius - ambient - mean) > SETTLED_KELVIN) {
            restSince = millis - COOL_MILLIS;
            forgetMean();
            return false;
        }
        rest(mean, millis);
        restSince = millis + AGAIN_MILLIS - COOL_MILLIS - MEAN_MILLIS;
        forgetMean();
        return true;
    }

    private void forgetMean() {
        sum = 0;
        readings = 0;
    }

    private void rest(double difference, long millis) {
        double gain = restedAt == NONE
                ? MOST_GAIN
                : StrictMath.min(MOST_GAIN, StrictMath.max(0, millis - restedAt) / DAY_MILLIS / FOLLOWS_DAYS);
        restedAt = millis;
        before = latest;
        latest = difference;
        rests++;
        if (learned < FIRST) {
            learned++;
            usual += (difference - usual) / learned;
        } else if (StrictMath.abs(difference - usual) < FOLLOWS_KELVIN) {
            usual += gain * (difference - usual);
        }
    }

    /** A sensor was replaced, or the machine moved: the usual difference is another one. */
    void relearn() {
        learned = 0;
        usual = 0;
        rests = 0;
    }

    /** Whether it is held against the machine's own ambient sensor, and not against a neighbour's. */
    boolean isByOwn() {
        return hasOwn;
    }

    /** The difference of the last rest, condenser less ambient, K; only after the first rest. */
    double latestKelvin() {
        return latest;
    }

    /** Rests seen since the difference was learned anew, those in which it was learned included. */
    public int rests() {
        return rests;
    }

    /**
     * How much higher the condenser sensor shows over the ambient sensor at rest than it used to, K: the smaller of what
     * the last two rests say. Empty while the usual difference is being learned, and where the two rests disagree.
     */
    public OptionalDouble kelvin() {
        if (rests < FIRST + 2 || StrictMath.abs(latest - before) > AGREE_KELVIN) {
            return OptionalDouble.empty();
        }
        double now = latest - usual;
        double then = before - usual;
        return OptionalDouble.of(StrictMath.abs(now) < StrictMath.abs(then) ? now : then);
    }

    /** The smaller difference of the last two rests, K; 0 before the second. */
    double bothKelvin() {
        if (rests < 2) {
            return 0;
        }
        return StrictMath.abs(latest) < StrictMath.abs(before) ? latest : before;
    }

    void save(StateWriter out) {
        out.flag(hasOwn)
                .measured(ambient)
                .time(ambientAt)
                .time(restSince)
                .time(newest)
                .real(sum)
                .whole(readings);
        out.real(usual).whole(learned).real(latest).real(before).whole(rests).time(restedAt);
    }

    static RestShift restore(StateReader in) {
        RestShift shift = new RestShift();
        shift.hasOwn = in.flag();
        shift.ambient = in.measured();
        shift.ambientAt = in.time();
        shift.restSince = in.time();
        shift.newest = in.time();
        shift.sum = in.real();
        shift.readings = in.wholeInt();
        shift.usual = in.real();
        shift.learned = in.wholeInt();
        shift.latest = in.real();
        shift.before = in.real();
        shift.rests = in.wholeInt();
        shift.restedAt = in.hasLayout(WITH_TIME_OF_REST) ? in.time() : NONE;
        return shift;
    }
}
