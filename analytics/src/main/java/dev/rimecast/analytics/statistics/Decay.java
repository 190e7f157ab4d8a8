package dev.rimecast.analytics.statistics;

/**
 * {@code exp(-t / constant)} of the time between two readings. A machine is read at equal steps, so the last answer is mostly
 * the next one, too: the same bits without the exponential. What it remembers is no state, and is not saved.
 */
public final class Decay {
    private final double constantMillis;
    private long lastMillis = Long.MIN_VALUE;
    private double last;

    public Decay(double constantMillis) {
        this.constantMillis = constantMillis;
    }

    /** What is left after so long. */
    public double after(long millis) {
        if (millis != lastMillis) {
            last = StrictMath.exp(-millis / constantMillis);
            lastMillis = millis;
        }
        return last;
    }
}
