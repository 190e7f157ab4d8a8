package dev.rimecast.analytics.fourthfleet;

import java.util.List;

/**
 * What goes wrong with one machine.
 *
 * @param size at full development, in the unit of the kind
 * @param onset epoch seconds
 * @param growthDays from nothing to the full size; 0 for a step
 * @param jumps where a stepwise growth jumps, as shares of its time
 * @param mode which of the ways of a kind that has several, 0 to 3
 */
record Fault(FaultKind kind, double size, long onset, double growthDays, Shape shape, List<Double> jumps, int mode) {
    static final Fault NONE = step(FaultKind.NONE, 0, Long.MAX_VALUE, 0);
    private static final double DAY_SECONDS = 86_400;
    private static final double DEVELOPED_ENOUGH = 0.8;

    /** How it grows. */
    enum Shape {
        LINEAR,
        ACCELERATING,
        STEPWISE
    }

    static Fault step(FaultKind kind, double size, long onset, int mode) {
        return new Fault(kind, size, onset, 0, Shape.LINEAR, List.of(), mode);
    }

    boolean isStep() {
        return growthDays <= 0;
    }

    /** Share of the full size at a time, 0 to 1, were nothing mended. */
    double grown(long t) {
        if (t < onset) {
            return 0;
        }
        double x = isStep() ? 1 : (t - onset) / (growthDays * DAY_SECONDS);
        if (x >= 1) {
            return 1;
        }
        return switch (shape) {
            case LINEAR -> x;
            case ACCELERATING -> x * x * 0.7 + 0.3 * x;
            case STEPWISE -> jumpsUntil(x) / 5.0 * 0.8 + 0.2 * x;
        };
    }

    private int jumpsUntil(double x) {
        int count = 0;
        for (double jump : jumps) {
            count += x >= jump ? 1 : 0;
        }
        return count;
    }

    boolean isDevelopedEnough(double grown) {
        return grown >= DEVELOPED_ENOUGH - 1e-9;
    }

    /** When 80 % are reached, to the hour; the onset of one that begins after all logs. */
    long developedEnoughAt() {
        long last = onset + 220L * 86_400;
        for (long t = onset; t < last; t += 3600) {
            if (isDevelopedEnough(grown(t))) {
                return t;
            }
        }
        return onset;
    }
}
