package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.Arrays;

/** The warmest air and water of each of the last {@value #DAYS} days, as the machine's cycles met them. */
final class PlaceDays {
    private static final int DAYS = 14;
    private static final long DAY_MILLIS = 86_400_000;

    private final float[] air = new float[DAYS];
    private final float[] water = new float[DAYS];
    private long day = Long.MIN_VALUE;

    PlaceDays() {
        Arrays.fill(air, Float.NEGATIVE_INFINITY);
        Arrays.fill(water, Float.NEGATIVE_INFINITY);
    }

    void see(double airCelsius, double waterCelsius, long millis) {
        long number = Math.floorDiv(millis, DAY_MILLIS);
        if (number > day) {
            int steps = day == Long.MIN_VALUE ? DAYS : (int) Math.min(DAYS, number - day);
            shift(air, steps);
            shift(water, steps);
            day = number;
        }
        air[DAYS - 1] = Math.max(air[DAYS - 1], (float) airCelsius);
        water[DAYS - 1] = Math.max(water[DAYS - 1], (float) waterCelsius);
    }

    private static void shift(float[] values, int steps) {
        System.arraycopy(values, steps, values, 0, DAYS - steps);
        Arrays.fill(values, DAYS - steps, DAYS, Float.NEGATIVE_INFINITY);
    }

    /** Warmest of all days; negative infinity before the first. */
    double warmestAir() {
        return most(air);
    }

    double warmestWater() {
        return most(water);
    }

    /** Mean of the days' warmest: an ordinary day. */
    double usualAir() {
        double sum = 0;
        int count = 0;
        for (float value : air) {
            if (value != Float.NEGATIVE_INFINITY) {
                sum += value;
                count++;
            }
        }
        return count == 0 ? Double.NEGATIVE_INFINITY : sum / count;
    }

    private static double most(float[] values) {
        double most = Double.NEGATIVE_INFINITY;
        for (float value : values) {
            most = Math.max(most, value);
        }
        return most;
    }

    void save(StateWriter out) {
        out.whole(day);
        for (int i = 0; i < DAYS; i++) {
            out.real32(air[i]).real32(water[i]);
        }
    }

    static PlaceDays restore(StateReader in) {
        PlaceDays days = new PlaceDays();
        days.day = in.whole();
        for (int i = 0; i < DAYS; i++) {
            days.air[i] = in.real32();
            days.water[i] = in.real32();
        }
        return days;
    }
}
