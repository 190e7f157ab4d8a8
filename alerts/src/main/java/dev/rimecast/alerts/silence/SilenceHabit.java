package dev.rimecast.alerts.silence;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;

/**
 * Closing time, learned: something that was silent at this local time on most days, or on this day of most weeks, is
 * usually switched off then, and its silence means nothing until it should have spoken again.
 *
 * <table>
 * <caption>Usual is</caption>
 * <tr><td>at least {@value #DAYS_LEAST} of the last {@value #DAYS} days</td><td>a bar that switches off at night</td></tr>
 * <tr><td>at least {@value #WEEKS_LEAST} of the last {@value #WEEKS} same days of the week</td><td>a canteen on Sunday</td></tr>
 * </table>
 *
 * <p>Times of day are local, so a habit follows the clocks when they change. {@link #SLACK} on either side bears with
 * people who close a little later. A silence that is too long for the habit ({@link #DAY_LONGEST}, {@link #WEEK_LONGEST})
 * shows none: one outage of five days was silent at any time of five days, and is not a bar that switches off at night.
 * The numbers are common practice, no source.
 */
public final class SilenceHabit {
    static final int DAYS = 7;
    static final int DAYS_LEAST = 5;
    static final int WEEKS = 4;
    static final int WEEKS_LEAST = 3;
    static final Duration SLACK = Duration.ofMinutes(60);
    /** A place that opens daily is on for four hours at least. */
    static final Duration DAY_LONGEST = Duration.ofHours(20);
    /** From Saturday evening to Monday morning. */
    static final Duration WEEK_LONGEST = Duration.ofHours(36);

    /** How far back spells are needed. */
    public static final Duration LOOKS_BACK = Duration.ofDays(7 * WEEKS + 2);

    private SilenceHabit() {}

    /** A silence that is over. */
    public record Spell(Instant from, Instant to) {}

    /**
     * Whether silence is usual now.
     *
     * @param spells earlier silences of the same machine or gateway; the present one is not among them
     * @return in words how usual; empty where it is not
     */
    public static Optional<String> usual(ZoneId zone, List<Spell> spells, Instant now) {
        int days = seen(zone, notLonger(spells, DAY_LONGEST), now, DAYS, 1);
        if (days >= DAYS_LEAST) {
            return Optional.of("on " + days + " of the last " + DAYS + " days");
        }
        int weeks = seen(zone, notLonger(spells, WEEK_LONGEST), now, WEEKS, 7);
        return weeks >= WEEKS_LEAST
                ? Optional.of("on this day in " + weeks + " of the last " + WEEKS + " weeks")
                : Optional.empty();
    }

    private static List<Spell> notLonger(List<Spell> spells, Duration longest) {
        return spells.stream()
                .filter(spell -> Duration.between(spell.from(), spell.to()).compareTo(longest) <= 0)
                .toList();
    }

    private static int seen(ZoneId zone, List<Spell> spells, Instant now, int times, int daysApart) {
        int seen = 0;
        for (int back = 1; back <= times; back++) {
            Instant then = now.atZone(zone).minusDays((long) back * daysApart).toInstant();
            boolean silent = spells.stream()
                    .anyMatch(spell -> spell.from().isBefore(then.plus(SLACK))
                            && spell.to().isAfter(then.minus(SLACK)));
            seen += silent ? 1 : 0;
        }
        return seen;
    }
}
