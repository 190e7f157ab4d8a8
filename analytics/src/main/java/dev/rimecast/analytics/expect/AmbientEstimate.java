package dev.rimecast.analytics.expect;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.OptionalDouble;

/**
 * The room's temperature from the condenser of a machine that rests, for machines without an ambient sensor.
 *
 * <p>A condenser that has moved by no more than {@value #STILL_KELVIN} K for {@value #STILL_MILLIS} ms, and is well below
 * what it is when the machine runs, has come to the room's temperature (it follows with a time constant of a few minutes);
 * before the first cycle it must have been still for longer than any freeze. Between rests the room is its last level and
 * what its hours of the day have usually been beside that level, both learned with exponential forgetting.
 */
public final class AmbientEstimate {
    private static final double STILL_KELVIN = 0.8;
    private static final long STILL_MILLIS = 15 * 60_000L;
    private static final long STILL_UNKNOWN_MILLIS = 75 * 60_000L;
    private static final double BELOW_RUNNING_KELVIN = 6;
    private static final double COLDEST_RUNNING_KELVIN = 6;
    private static final double RUNNING_GAIN = 0.1;
    private static final double HOUR_GAIN = 0.15;
    private static final double DAYS_OF_MEMORY = 0.5;
    private static final double LEAST_DAYS = 0.02;
    /** What one reading after the other keeps. */
    private static final double KEEP_SOON = StrictMath.exp(-LEAST_DAYS / DAYS_OF_MEMORY);

    private static final long HOUR_MILLIS = 3_600_000;
    private static final double DAY_MILLIS = 86_400_000;
    private static final long LONGEST_MILLIS = 7 * 86_400_000L;
    private static final int HOURS = 24;
    private static final long NONE = Long.MIN_VALUE;

    private double anchor;
    private long anchorAt = NONE;
    private boolean hasRun;
    private double running;
    private double level;
    private long levelAt = NONE;
    private final float[] hours = new float[HOURS];

    /** A cycle is over; its condenser was as warm as this at the end of the freeze. */
    public void ran(double condenserAtEnd) {
        running = hasRun ? running + (condenserAtEnd - running) * RUNNING_GAIN : condenserAtEnd;
        hasRun = true;
    }

    /** Whether the condenser is colder than it ever is when the machine runs; not known before the first cycle. */
    public boolean isAtRest() {
        return hasRun && anchorAt != NONE && anchor < running - COLDEST_RUNNING_KELVIN;
    }

    /** Takes a condenser reading; returns whether it is the room's temperature, too. */
    public boolean condenser(double celsius, long millis) {
        if (anchorAt == NONE || StrictMath.abs(celsius - anchor) > STILL_KELVIN) {
            anchor = celsius;
            anchorAt = millis;
            return false;
        }
        boolean isRest = hasRun
                ? celsius <= running - BELOW_RUNNING_KELVIN && millis - anchorAt >= STILL_MILLIS
                : millis - anchorAt >= STILL_UNKNOWN_MILLIS;
        if (!isRest) {
            return false;
        }
        int hour = hour(millis);
        double observed = celsius - hours[hour];
        double days = levelAt == NONE ? Double.POSITIVE_INFINITY : (millis - levelAt) / DAY_MILLIS;
        double keep = days <= LEAST_DAYS ? KEEP_SOON : StrictMath.exp(-days / DAYS_OF_MEMORY);
        level = levelAt == NONE ? observed : observed + (level - observed) * keep;
        levelAt = millis;
        hours[hour] += (float) (HOUR_GAIN * (celsius - level - hours[hour]));
        anchor = celsius;
        anchorAt = millis;
        return true;
    }

    /** The room at a time, if the machine has rested within the last week. */
    public OptionalDouble at(long millis) {
        return levelAt == NONE || millis - levelAt > LONGEST_MILLIS
                ? OptionalDouble.empty()
                : OptionalDouble.of(level + hours[hour(millis)]);
    }

    /** How old the newest rest is; only if {@link #at} is known. */
    public double ageHours(long millis) {
        return (millis - levelAt) / (double) HOUR_MILLIS;
    }

    /** Hour of the day in UTC: any fixed clock serves, since the hours are learned. */
    private static int hour(long millis) {
        return (int) Math.floorMod(Math.floorDiv(millis, HOUR_MILLIS), (long) HOURS);
    }

    public void save(StateWriter out) {
        out.real(anchor).time(anchorAt).flag(hasRun).real(running).real(level).time(levelAt);
        out.flag(levelAt != NONE);
        if (levelAt != NONE) {
            for (float hour : hours) {
                out.real32(hour);
            }
        }
    }

    public static AmbientEstimate restore(StateReader in) {
        AmbientEstimate estimate = new AmbientEstimate();
        estimate.anchor = in.real();
        estimate.anchorAt = in.time();
        estimate.hasRun = in.flag();
        estimate.running = in.real();
        estimate.level = in.real();
        estimate.levelAt = in.time();
        if (in.flag()) {
            for (int i = 0; i < HOURS; i++) {
                estimate.hours[i] = in.real32();
            }
        }
        return estimate;
    }
}
