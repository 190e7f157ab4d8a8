package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.expect.SiteWeather;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.analytics.statistics.Median;
import java.util.Arrays;
import java.util.OptionalDouble;

/** The warmest air and water of each of the last {@value #DAYS} days, as the machine's cycles met them. */
final class PlaceDays {
    private static final int DAYS = 14;
    private static final long DAY_MILLIS = 86_400_000;
    private static final int FEWEST_DAYS_SEEN = 5;
    private static final int FEWEST_DAYS_AHEAD = 3;
    private static final double LEAST_APART_KELVIN = 1;

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

    /**
     * What the warmest day to come brings to the machine: the room follows the weather by the robust line through the
     * days of which both are known. Empty without enough days on either side.
     */
    OptionalDouble warmestAhead(SiteWeather weather) {
        double[] outside = new double[DAYS];
        double[] inside = new double[DAYS];
        int n = 0;
        for (int i = 0; i < DAYS; i++) {
            OptionalDouble celsius = weather.of(day - (DAYS - 1) + i);
            if (air[i] != Float.NEGATIVE_INFINITY && celsius.isPresent()) {
                outside[n] = celsius.getAsDouble();
                inside[n++] = air[i];
            }
        }
        OptionalDouble ahead = weather.ahead(day, FEWEST_DAYS_AHEAD);
        if (n < FEWEST_DAYS_SEEN || ahead.isEmpty()) {
            return OptionalDouble.empty();
        }
        double slope = slope(outside, inside, n);
        double[] rest = new double[n];
        for (int i = 0; i < n; i++) {
            rest[i] = inside[i] - slope * outside[i];
        }
        return OptionalDouble.of(Median.of(rest, n) + slope * ahead.getAsDouble());
    }

    /** Median of all pairs' slopes; a room is not colder for a warmer day, nor does it swing more than the weather. */
    private static double slope(double[] outside, double[] inside, int n) {
        double[] slopes = new double[n * (n - 1) / 2];
        int count = 0;
        for (int i = 0; i < n; i++) {
            for (int j = i + 1; j < n; j++) {
                if (StrictMath.abs(outside[j] - outside[i]) >= LEAST_APART_KELVIN) {
                    slopes[count++] = (inside[j] - inside[i]) / (outside[j] - outside[i]);
                }
            }
        }
        double slope = count == 0 ? 1 : Median.of(slopes, count);
        return StrictMath.max(0, StrictMath.min(1, slope));
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
