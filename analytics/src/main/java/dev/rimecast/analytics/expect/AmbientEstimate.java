package dev.rimecast.analytics.expect;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.OptionalDouble;

/**
 * The room's temperature from the condenser of a machine that rests, for machines without an ambient sensor.
 *
 * <p>A condenser that is well below what it is when the machine runs comes to the room's temperature within minutes, and
 * then goes with it. So it is looked at every {@value #WINDOW_MILLIS} ms: once it has been slower than {@value #SLOW_KELVIN_PER_HOUR} K
 * an hour twice, it is the room. That a room may warm up by several kelvin in an hour is no reason to wait: a condenser that
 * still cools down is faster. Before the first cycle nothing is known of what is warm, and it must have been slow for longer
 * than any freeze.
 */
public final class AmbientEstimate {
    private static final long WINDOW_MILLIS = 10 * 60_000L;
    /** A gap says nothing of how the condenser went. */
    private static final long LONGEST_WINDOW_MILLIS = 3 * WINDOW_MILLIS;

    private static final double SLOW_KELVIN_PER_HOUR = 6;
    private static final int WINDOWS = 2;
    private static final int WINDOWS_UNKNOWN = 8;
    private static final double BELOW_RUNNING_KELVIN = 6;
    private static final double RUNNING_GAIN = 0.1;
    private static final double HOUR_MILLIS = 3_600_000;
    private static final long LONGEST_MILLIS = 30 * 86_400_000L;
    private static final long NONE = Long.MIN_VALUE;

    private double newest = Double.POSITIVE_INFINITY;
    private boolean hasRun;
    private double running;
    private double windowCelsius;
    private long windowAt = NONE;
    private int slowWindows;
    private double rest;
    private long restAt = NONE;

    /** A cycle is over; its condenser was as warm as this at the end of the freeze. */
    public void ran(double condenserAtEnd) {
        running = hasRun ? running + (condenserAtEnd - running) * RUNNING_GAIN : condenserAtEnd;
        hasRun = true;
    }

    /** Whether the condenser is colder than it ever is when the machine runs; not known before the first cycle. */
    public boolean isAtRest() {
        return hasRun && newest < running - BELOW_RUNNING_KELVIN;
    }

    /** Takes a condenser reading; returns whether it is the room's temperature. */
    public boolean condenser(double celsius, long millis) {
        newest = celsius;
        if (hasRun && !isAtRest()) {
            windowAt = NONE;
            slowWindows = 0;
        } else if (windowAt == NONE || millis - windowAt > LONGEST_WINDOW_MILLIS) {
            slowWindows = 0;
            window(celsius, millis);
        } else if (millis - windowAt >= WINDOW_MILLIS) {
            double perHour = (celsius - windowCelsius) / (millis - windowAt) * HOUR_MILLIS;
            slowWindows = StrictMath.abs(perHour) <= SLOW_KELVIN_PER_HOUR ? slowWindows + 1 : 0;
            window(celsius, millis);
            if (slowWindows >= (hasRun ? WINDOWS : WINDOWS_UNKNOWN)) {
                rest = celsius;
                restAt = millis;
                return true;
            }
        }
        return false;
    }

    private void window(double celsius, long millis) {
        windowCelsius = celsius;
        windowAt = millis;
    }

    /** The room when the machine rested last, if that was within the last month. */
    public OptionalDouble lastRest(long millis) {
        return restAt == NONE || millis - restAt > LONGEST_MILLIS ? OptionalDouble.empty() : OptionalDouble.of(rest);
    }

    /** How old {@link #lastRest} is; only if it is known. */
    public double ageHours(long millis) {
        return StrictMath.max(0, millis - restAt) / HOUR_MILLIS;
    }

    public void save(StateWriter out) {
        out.real(newest).flag(hasRun).real(running);
        out.real(windowCelsius).time(windowAt).whole(slowWindows).real(rest).time(restAt);
    }

    public static AmbientEstimate restore(StateReader in) {
        AmbientEstimate estimate = new AmbientEstimate();
        estimate.newest = in.real();
        estimate.hasRun = in.flag();
        estimate.running = in.real();
        estimate.windowCelsius = in.real();
        estimate.windowAt = in.time();
        estimate.slowWindows = in.wholeInt();
        estimate.rest = in.real();
        estimate.restAt = in.time();
        return estimate;
    }
}
