package dev.rimecast.analytics.drift;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/** One value a day of a residual, for the last {@value #DAYS} days: the mean of the day's block medians. */
final class DayMedians {
    static final int DAYS = 40;

    private final float[] values = new float[DAYS];
    private long day = Long.MIN_VALUE;
    private float sum;
    private int count;

    DayMedians() {
        java.util.Arrays.fill(values, Float.NaN);
    }

    void add(long dayNumber, double median) {
        if (dayNumber < day) {
            return;
        }
        if (dayNumber > day) {
            int steps = day == Long.MIN_VALUE ? DAYS : (int) Math.min(DAYS, dayNumber - day);
            System.arraycopy(values, steps, values, 0, DAYS - steps);
            java.util.Arrays.fill(values, DAYS - steps, DAYS, Float.NaN);
            day = dayNumber;
            sum = 0;
            count = 0;
        }
        sum += (float) median;
        count++;
        values[DAYS - 1] = sum / count;
    }

    /** Copies days from {@code firstDay} on, in order; returns how many there are. Both arrays hold {@value #DAYS}. */
    int copySince(long firstDay, double[] x, double[] y) {
        int n = 0;
        for (int i = 0; i < DAYS; i++) {
            long number = day - (DAYS - 1) + i;
            if (number >= firstDay && !Float.isNaN(values[i])) {
                x[n] = number;
                y[n++] = values[i];
            }
        }
        return n;
    }

    void save(StateWriter out) {
        int first = 0;
        while (first < DAYS && Float.isNaN(values[first])) {
            first++;
        }
        out.whole(day).real32(sum).whole(count).whole(first);
        for (int i = first; i < DAYS; i++) {
            out.real32(values[i]);
        }
    }

    static DayMedians restore(StateReader in) {
        DayMedians medians = new DayMedians();
        medians.day = in.whole();
        medians.sum = in.real32();
        medians.count = in.wholeInt();
        for (int i = in.wholeInt(); i < DAYS; i++) {
            medians.values[i] = in.real32();
        }
        return medians;
    }
}
