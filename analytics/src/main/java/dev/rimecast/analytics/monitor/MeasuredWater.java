package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.Arrays;
import java.util.OptionalDouble;

/**
 * By how many kelvin the water sensors of a site's machines show its mains warmer than the season's, by the day of the cycles'
 * own time: the mean of a day's cycles. Sums are of whole thousandths, so the order in which machines' cycles come changes nothing.
 */
final class MeasuredWater {
    private static final int DAYS = 4;
    private static final int FEWEST_CYCLES = 3;
    private static final double PARTS_OF_A_KELVIN = 1000;
    private static final long NONE = Long.MIN_VALUE;

    private final long[] day = new long[DAYS];
    private final long[] sum = new long[DAYS];
    private final int[] cycles = new int[DAYS];

    MeasuredWater() {
        Arrays.fill(day, NONE);
    }

    /** Takes what a cycle says, unless it is older than what is kept. */
    void see(long ofDay, double kelvin) {
        int at = at(ofDay);
        if (ofDay > day[at]) {
            day[at] = ofDay;
            sum[at] = 0;
            cycles[at] = 0;
        }
        if (ofDay == day[at]) {
            sum[at] += Math.round(kelvin * PARTS_OF_A_KELVIN);
            cycles[at]++;
        }
    }

    /** The mean of a day's cycles, K; empty where there are too few. */
    OptionalDouble on(long ofDay) {
        int at = at(ofDay);
        return day[at] == ofDay && cycles[at] >= FEWEST_CYCLES
                ? OptionalDouble.of(sum[at] / PARTS_OF_A_KELVIN / cycles[at])
                : OptionalDouble.empty();
    }

    private static int at(long day) {
        return (int) Math.floorMod(day, (long) DAYS);
    }

    void save(StateWriter out) {
        for (int i = 0; i < DAYS; i++) {
            out.time(day[i]);
            if (day[i] != NONE) {
                out.whole(sum[i]).whole(cycles[i]);
            }
        }
    }

    /** Takes over what was saved. */
    void restore(StateReader in) {
        for (int i = 0; i < DAYS; i++) {
            day[i] = in.time();
            if (day[i] != NONE) {
                sum[i] = in.whole();
                cycles[i] = in.wholeInt();
            }
        }
    }
}
