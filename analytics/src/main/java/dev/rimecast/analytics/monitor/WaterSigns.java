package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.Arrays;
import java.util.OptionalDouble;

/**
 * By how many kelvin one machine's cycles say that the water is warmer than the season's, by the day of their own time: the
 * day's mean of its last days. Empty for a machine that has a sensor, and before anything is expected of it.
 */
final class WaterSigns {
    private static final int DAYS = 3;
    private static final int FEWEST_CYCLES = 3;
    private static final long NONE = Long.MIN_VALUE;

    private final long[] day = new long[DAYS];
    private final float[] sum = new float[DAYS];
    private final int[] cycles = new int[DAYS];

    WaterSigns() {
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
            sum[at] += (float) kelvin;
            cycles[at]++;
        }
    }

    /** The mean of a day's cycles, K; empty where there are too few. */
    OptionalDouble on(long ofDay) {
        int at = at(ofDay);
        return day[at] == ofDay && cycles[at] >= FEWEST_CYCLES
                ? OptionalDouble.of(sum[at] / cycles[at])
                : OptionalDouble.empty();
    }

    private static int at(long day) {
        return (int) Math.floorMod(day, (long) DAYS);
    }

    void save(StateWriter out) {
        for (int i = 0; i < DAYS; i++) {
            out.time(day[i]);
            if (day[i] != NONE) {
                out.real32(sum[i]).whole(cycles[i]);
            }
        }
    }

    static WaterSigns restore(StateReader in) {
        WaterSigns signs = new WaterSigns();
        for (int i = 0; i < DAYS; i++) {
            signs.day[i] = in.time();
            if (signs.day[i] != NONE) {
                signs.sum[i] = in.real32();
                signs.cycles[i] = in.wholeInt();
            }
        }
        return signs;
    }
}
