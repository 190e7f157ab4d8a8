package dev.rimecast.analytics.drift;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.analytics.statistics.EwmaDesign;

/**
 * Exponentially weighted moving average (Roberts 1959) {@code z = z + λ (x - z)} of standardised values: beside a cumulative sum
 * it finds changes that are smaller than what the sum allows for. Held at twice its limit, so that it comes down in time once
 * the change is undone. State: 12 bytes. Cost: one multiplication a value.
 *
 * <table>
 * <caption>Edges</caption>
 * <tr><td>first value</td><td>starts from 0, with the limit of a long run (Lucas and Saccucci 1990): no early alarm</td></tr>
 * <tr><td>constant at the expectation</td><td>goes to 0</td></tr>
 * <tr><td>gap</td><td>stays as it is</td></tr>
 * <tr><td>wild value</td><td>the caller clips; see {@link ResidualTrack}</td></tr>
 * </table>
 */
public final class Ewma {
    private float level;
    private long since;

    /**
     * @param x standardised value
     * @param millis its time
     * @param weight λ, of the newest value, above 0 and at most 1
     * @param limit of the average, above 0
     */
    public void add(double x, long millis, double weight, double limit) {
        double next = level + weight * (x - level);
        if (StrictMath.abs(next) <= EwmaDesign.sigma(weight) || next * level < 0) {
            since = millis;
        }
        level = (float) StrictMath.max(-2 * limit, StrictMath.min(2 * limit, next));
    }

    /** The average; below 0 for a downward change. */
    public double level() {
        return level;
    }

    /**
     * When it was last within one of its own standard deviations of zero: the estimate of when the change began. Nishina (1992, A
     * comparison of control charts from the viewpoint of change-point estimation; from memory) takes the last crossing of zero;
     * where neighbours are alike that is a week too early in one of ten cases, this two days (Monte Carlo, changes that grow by
     * 0.05 to 1 deviation of a cycle a day; in the median 1 to 10 days late, a third to half of the time to the alarm).
     */
    public long sinceMillis() {
        return since;
    }

    public void reset() {
        level = 0;
    }

    void save(StateWriter out) {
        out.real32(level).time(since);
    }

    static Ewma restore(StateReader in) {
        Ewma average = new Ewma();
        average.level = in.real32();
        average.since = in.time();
        return average;
    }
}
