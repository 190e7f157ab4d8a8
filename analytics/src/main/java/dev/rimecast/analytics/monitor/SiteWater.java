package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.analytics.statistics.Median;
import java.util.Arrays;
import java.util.Collection;
import java.util.OptionalDouble;
import java.util.function.Supplier;

/**
 * By how many kelvin a site's mains water is warmer than the season says, for machines without a sensor of their own. The machines of a site draw
 * the same water: where others have a sensor, it has changed by what they show since they were first heard; which water that was is in what each machine has learned. Else
 * what most machines show at once is the water's, what one of them shows alone is its own. Of two it is what
 * shows less; one alone says nothing.
 *
 * <p>Told by the day of the cycles' own time, from a day that is over for every machine: so it depends neither on the order in
 * which readings of different machines came, nor on when they did, unless they are more than a day late.
 */
final class SiteWater {
    /** Slow enough that an open door or a cleaning is not taken for water, quick enough for a season. */
    private static final double GAIN_A_DAY = 0.2;

    /** Quicker, but a sensor that is away for a day may not leave a step of its error behind. */
    private static final double GAIN_OF_SENSORS_A_DAY = 0.5;

    /** Mains that come through the ground change by less between two days, with what the shift is behind them [common practice]. */
    private static final double MOST_OF_A_DAY_KELVIN = 1.5;

    private static final int MOST_DAYS = 100;
    private static final double MOST_OFF_KELVIN = 4;
    private static final double MOST_SHIFT_KELVIN = 12;
    /** The day before may not be over yet for another machine. */
    private static final int DAYS_BACK = 2;

    private static final int KEPT = 4;
    private static final long NONE = Long.MIN_VALUE;
    /** From this layout of a site's state on it has what sensors show. */
    private static final int WITH_SENSORS = 7;

    /**
     * What to add to the season's water.
     *
     * @param days for how many sensors of the site have told how it goes, {@value #MOST_DAYS} at most; 0 where none does
     */
    record Shift(double kelvin, int days) {
        boolean isMeasured() {
            return days > 0;
        }
    }

    private final Supplier<Collection<WaterSigns>> signs;
    private final MeasuredWater measured = new MeasuredWater();
    private long newest = NONE;
    /** Of the newest day and of those before it, by the day's number. */
    private final double[] shift = new double[KEPT];

    /** Likewise, for how many days sensors had told. */
    private final int[] days = new int[KEPT];
    /** By how much more than the shift sensors showed when they were first heard, K; not a number while none is. */
    private double offset = Double.NaN;
    /** Days in a row on which they told nothing, or what no mains do. */
    private int silentDays;

    SiteWater(Supplier<Collection<WaterSigns>> signs) {
        this.signs = signs;
    }

    /** A cycle of a machine with a sensor: by how much its water is warmer than the season's, K. */
    void measured(long day, double kelvin) {
        measured.see(day, kelvin);
    }

    /** What to add to the season's water on a day since 1970, K: for days long past as for the oldest that is kept. */
    Shift on(long day) {
        if (newest == NONE) {
            newest = day;
        }
        if (day - newest > KEPT) {
            // Nothing was heard for days: what was known last still is the best guess.
            Arrays.fill(shift, shift[at(newest)]);
            Arrays.fill(days, 0);
            offset = Double.NaN;
            silentDays = 0;
            newest = day - 1;
        }
        while (newest < day) {
            next();
        }
        int at = at(Math.max(day, newest - KEPT + 1));
        return new Shift(shift[at], days[at]);
    }

    /** Whether sensors tell how it goes, as of the newest day. */
    boolean isMeasured() {
        return newest != NONE && days[at(newest)] > 0;
    }

    private void next() {
        double before = shift[at(newest)];
        int daysBefore = days[at(newest)];
        newest++;
        int at = at(newest);
        long day = newest - DAYS_BACK;
        OptionalDouble told = measured.on(day);
        if (told.isPresent() && Double.isNaN(offset)) {
            offset = told.getAsDouble() - before;
            silentDays = 0;
        }
        double warmer = told.isPresent() ? told.getAsDouble() - offset - before : 0;
        // A probe that comes off its pipe, or one of two that falls silent, shows what mains don't do in a day.
        boolean isTold = told.isPresent() && Math.abs(warmer) <= MOST_OF_A_DAY_KELVIN;
        silentDays = isTold ? 0 : silentDays + 1;
        if (silentDays >= KEPT) {
            offset = Double.NaN;
        }
        if (Double.isNaN(offset)) {
            days[at] = 0;
            double off = bounded(off(day, before), MOST_OFF_KELVIN);
            shift[at] = bounded(before + GAIN_A_DAY * off, MOST_SHIFT_KELVIN);
        } else {
            days[at] = Math.min(daysBefore + 1, MOST_DAYS);
            shift[at] = bounded(before + (isTold ? GAIN_OF_SENSORS_A_DAY * warmer : 0), MOST_SHIFT_KELVIN);
        }
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
            for (int each : days) {
                out.u8(each);
            }
            out.real(offset).whole(silentDays);
        }
        measured.save(out);
    }

    /** Takes over what was saved. */
    void restore(StateReader in) {
        newest = in.time();
        if (newest != NONE) {
            for (int i = 0; i < KEPT; i++) {
                shift[i] = in.real();
            }
        }
        if (!in.hasLayout(WITH_SENSORS)) {
            return;
        }
        if (newest != NONE) {
            for (int i = 0; i < KEPT; i++) {
                days[i] = in.u8();
            }
            offset = in.real();
            silentDays = in.wholeInt();
        }
        measured.restore(in);
    }
}
