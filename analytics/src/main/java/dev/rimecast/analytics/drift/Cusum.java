package dev.rimecast.analytics.drift;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/**
 * Two one-sided cumulative sums (Page 1954), {@code up = max(0, up + x - k)} and {@code down = max(0, down - x - k)}, of
 * standardised values. Each is held at twice its limit, so that it comes down in time once the change is undone.
 *
 * <table>
 * <caption>Edges</caption>
 * <tr><td>first value</td><td>starts from 0</td></tr>
 * <tr><td>constant at the expectation</td><td>stays 0</td></tr>
 * <tr><td>wild value</td><td>the caller clips; see {@link ResidualTrack}</td></tr>
 * </table>
 */
public final class Cusum {
    private float up;
    private float down;
    private long upSince;
    private long downSince;
    private int upCount;
    private int downCount;

    /**
     * @param x standardised value
     * @param millis its time
     * @param k reference value
     * @param h limit
     */
    public void add(double x, long millis, double k, double h) {
        if (up == 0) {
            upSince = millis;
            upCount = 0;
        }
        if (down == 0) {
            downSince = millis;
            downCount = 0;
        }
        upCount++;
        downCount++;
        up = (float) StrictMath.min(2 * h, StrictMath.max(0, up + x - k));
        down = (float) StrictMath.min(2 * h, StrictMath.max(0, down - x - k));
    }

    public double up() {
        return up;
    }

    public double down() {
        return down;
    }

    /** When the upward sum last left zero: the best guess of when the change began. */
    public long upSinceMillis() {
        return upSince;
    }

    public long downSinceMillis() {
        return downSince;
    }

    /** Values since the upward sum last left zero. */
    public int upCount() {
        return upCount;
    }

    public int downCount() {
        return downCount;
    }

    public void reset() {
        up = 0;
        down = 0;
    }

    void save(StateWriter out) {
        out.real32(up).real32(down).time(upSince).time(downSince).whole(upCount).whole(downCount);
    }

    static Cusum restore(StateReader in) {
        Cusum cusum = new Cusum();
        cusum.up = in.real32();
        cusum.down = in.real32();
        cusum.upSince = in.time();
        cusum.downSince = in.time();
        cusum.upCount = in.wholeInt();
        cusum.downCount = in.wholeInt();
        return cusum;
    }
}
