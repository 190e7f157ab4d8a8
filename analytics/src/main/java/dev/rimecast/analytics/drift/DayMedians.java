package dev.rimecast.analytics.drift;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.Arrays;

/** One value a day of a residual, for the last {@value #DAYS} days: the mean of the day's block medians. */
final class DayMedians {
    static final int DAYS = 28;

    private final short[] values = new short[DAYS];
    private long day = Long.MIN_VALUE;
    private float sum;
    private int count;

    DayMedians() {
        Arrays.fill(values, Shorts.NONE);
    }

    void add(long dayNumber, double median) {
        if (dayNumber < day) {
            return;
        }
        if (dayNumber > day) {
            int steps = day == Long.MIN_VALUE ? DAYS : (int) Math.min(DAYS, dayNumber - day);
            System.arraycopy(values, steps, values, 0, DAYS - steps);
            Arrays.fill(values, DAYS - steps, DAYS, Shorts.NONE);
            day = dayNumber;
            sum = 0;
            count = 0;
        }
        sum += (float) median;
        count++;
        values[DAYS - 1] = Shorts.of(sum / count);
    }

    /** Copies days from {@code firstDay} on, in order; returns how many there are. Both arrays hold {@value #DAYS}. */
    int copySince(long firstDay, double[] x, double[] y) {
        int n = 0;
        for (int i = 0; i < DAYS; i++) {
            long number = day - (DAYS - 1) + i;
            if (number >= firstDay && values[i] != Shorts.NONE) {
                x[n] = number;
                y[n++] = Shorts.value(values[i]);
            }
        }
        return n;
    }

    void save(StateWriter out) {
        int first = 0;
        while (first < DAYS && values[first] == Shorts.NONE) {
            first++;
        }
        out.whole(day).real32(sum).whole(count).whole(first);
        for (int i = first; i < DAYS; i++) {
            out.short16(values[i]);
        }
    }

    static DayMedians restore(StateReader in) {
        DayMedians medians = new DayMedians();
        medians.day = in.whole();
        medians.sum = in.real32();
        medians.count = in.wholeInt();
        for (int i = in.wholeInt(); i < DAYS; i++) {
            medians.values[i] = in.short16();
        }
        return medians;
    }
}
