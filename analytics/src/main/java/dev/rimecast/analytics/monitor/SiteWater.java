package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.analytics.statistics.Median;
import java.util.Arrays;
import java.util.Collection;
import java.util.OptionalDouble;
import java.util.function.Supplier;

/**
 * By how many kelvin a site's mains water is warmer than the season says, where no sensor tells it. The machines of a site draw
 * the same water: what most of them show at once is the water's, what one of them shows alone is its own. Of two it is what
 * shows less; one alone says nothing.
 *
 * <p>Told by the day of the cycles' own time, from a day that is over for every machine: so it depends neither on the order in
 * which readings of different machines came, nor on when they did, unless they are more than a day late.
 */
final class SiteWater {
    /** Slow enough that an open door or a cleaning is not taken for water, quick enough for a season. */
    private static final double GAIN_A_DAY = 0.2;

    private static final double MOST_OFF_KELVIN = 4;
    private static final double MOST_SHIFT_KELVIN = 12;
    /** The day before may not be over yet for another machine. */
    private static final int DAYS_BACK = 2;

    private static final int KEPT = 4;
    private static final long NONE = Long.MIN_VALUE;

    private final Supplier<Collection<WaterSigns>> signs;
    private long newest = NONE;
    /** Of the newest day and of those before it, by the day's number. */
    private final double[] shift = new double[KEPT];

    SiteWater(Supplier<Collection<WaterSigns>> signs) {
        this.signs = signs;
    }

    /** What to add to the season's water on a day since 1970, K: for days long past as for the oldest that is kept. */
    double shiftOn(long day) {
        if (newest == NONE) {
            newest = day;
        }
        if (day - newest > KEPT) {
            // Nothing was heard for days: what was known last still is the best guess.
            Arrays.fill(shift, shift[at(newest)]);
            newest = day - 1;
        }
        while (newest < day) {
            double before = shift[at(newest)];
            newest++;
            shift[at(newest)] = bounded(
                    before + GAIN_A_DAY * bounded(off(newest - DAYS_BACK, before), MOST_OFF_KELVIN), MOST_SHIFT_KELVIN);
        }
        return shift[at(Math.max(day, newest - KEPT + 1))];
    }

    private double off(long day, double known) {
        double[] each = signs.get().stream()
                .map(one -> one.on(day))
                .filter(OptionalDouble::isPresent)
                .mapToDouble(kelvin -> kelvin.getAsDouble() - known)
                .sorted()
                .toArray();
        return switch (each.length) {
            case 0, 1 -> 0;
            case 2 -> each[0] * each[1] <= 0 ? 0 : Math.abs(each[0]) < Math.abs(each[1]) ? each[0] : each[1];
            default -> Median.of(each, each.length);
        };
    }

    private static double bounded(double x, double most) {
        return StrictMath.max(-most, StrictMath.min(most, x));
    }

    private static int at(long day) {
        return (int) Math.floorMod(day, (long) KEPT);
    }

    void save(StateWriter out) {
        out.time(newest);
        if (newest != NONE) {
            for (double kelvin : shift) {
                out.real(kelvin);
            }
        }
    }

    /** Takes over what was saved. */
    void restore(StateReader in) {
        newest = in.time();
        if (newest != NONE) {
            for (int i = 0; i < KEPT; i++) {
                shift[i] = in.real();
            }
        }
    }
}
