package dev.rimecast.analytics.sensor;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/**
 * Whether a temperature stays within {@value #STILL_KELVIN} K, noise of a dead input included, while the other temperature of
 * the machine moves by {@value #OTHER_MOVED_KELVIN} K within an hour, about half of what it does in a cycle, and in the direction in
 * which only a compressor moves it: a condenser up, a plate down. What the other does in the first
 * {@value #SETTLING_MILLIS} ms does not count: when a machine stops, its condenser cools and its plate thaws. And it must stay
 * for as long after that movement: when a machine starts, the condenser is faster.
 *
 * <p>A sensor that sits off its place moves little and late, and is none the worse: each time that one moves again by itself after it was
 * told, it may stay twice as long.
 */
final class Stuck {
    private static final double STILL_KELVIN = 1;
    private static final double OTHER_MOVED_KELVIN = 8;
    private static final long SETTLING_MILLIS = 25 * 60_000L;
    private static final long WINDOW_MILLIS = 60 * 60_000L;
    /** Two days at the standard 90 minutes. */
    private static final int MOST_DOUBLED = 5;

    private static final int WITH_DOUBLED = 17;
    private static final long NONE = Long.MIN_VALUE;

    private final boolean otherIsCondenser;
    private double value;
    private long since = NONE;
    private double otherLow = Double.POSITIVE_INFINITY;
    private double otherHigh = Double.NEGATIVE_INFINITY;
    private double otherLowest = Double.POSITIVE_INFINITY;
    private long otherMovedAt = NONE;
    private long windowSince = NONE;
    private boolean told;
    private int doubled;

    private Stuck(boolean otherIsCondenser) {
        this.otherIsCondenser = otherIsCondenser;
    }

    static Stuck ofEvaporator() {
        return new Stuck(true);
    }

    static Stuck ofCondenser() {
        return new Stuck(false);
    }

    void see(double celsius, long millis) {
        if (since == NONE || StrictMath.abs(celsius - value) > STILL_KELVIN) {
            value = celsius;
            since = millis;
            otherLow = Double.POSITIVE_INFINITY;
            otherHigh = Double.NEGATIVE_INFINITY;
            otherLowest = Double.POSITIVE_INFINITY;
            otherMovedAt = NONE;
            windowSince = NONE;
            doubled = told ? Math.min(MOST_DOUBLED, doubled + 1) : doubled;
            told = false;
        }
    }

    /** It was said that it is stuck. */
    void told() {
        told = true;
    }

    /** Whoever worked on the machine may have put it right. */
    void worked() {
        told = false;
    }

    /** It is another sensor, or sits elsewhere. */
    void replaced() {
        told = false;
        doubled = 0;
    }

    void other(double celsius, long millis) {
        if (since == NONE || millis - since <= SETTLING_MILLIS) {
            return;
        }
        if (windowSince == NONE || millis - windowSince > WINDOW_MILLIS) {
            windowSince = millis;
            otherLow = Double.POSITIVE_INFINITY;
            otherHigh = Double.NEGATIVE_INFINITY;
        }
        otherLow = Math.min(otherLow, celsius);
        otherHigh = Math.max(otherHigh, celsius);
        otherLowest = Math.min(otherLowest, celsius);
        double moved = otherIsCondenser ? celsius - otherLow : otherHigh - celsius;
        if (otherMovedAt == NONE && moved >= OTHER_MOVED_KELVIN) {
            otherMovedAt = millis;
        }
    }

    /**
     * @param allowedMillis for how long it may stay, the first time
     * @param otherBelow what the other must have come below for it to mean something, °C
     */
    boolean isStuck(long millis, long allowedMillis, double otherBelow) {
        return since != NONE
                && millis - since >= allowedMillis << doubled
                && otherMovedAt != NONE
                && millis - otherMovedAt >= SETTLING_MILLIS
                && otherLowest <= otherBelow;
    }

    long sinceMillis() {
        return since;
    }

    void save(StateWriter out) {
        out.measured(value)
                .whole(since)
                .measured(otherLow)
                .measured(otherHigh)
                .time(otherMovedAt)
                .measured(otherLowest)
                .time(windowSince)
                .flag(told)
                .u8(doubled);
    }

    static Stuck restore(boolean otherIsCondenser, StateReader in) {
        Stuck stuck = new Stuck(otherIsCondenser);
        stuck.value = in.measured();
        stuck.since = in.whole();
        stuck.otherLow = in.measured();
        stuck.otherHigh = in.measured();
        stuck.otherMovedAt = in.time();
        stuck.otherLowest = in.measured();
        stuck.windowSince = in.time();
        if (in.hasLayout(WITH_DOUBLED)) {
            stuck.told = in.flag();
            stuck.doubled = in.u8();
        }
        return stuck;
    }
}
