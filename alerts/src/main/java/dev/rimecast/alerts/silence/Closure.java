package dev.rimecast.alerts.silence;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeParseException;
import java.util.Locale;
import java.util.Optional;

/**
 * A site, or one machine of it, that is closed by its own word. Few tell that they have opened again, so it ends on the day that
 * was told with it, or once ice is made as on days that are open; a bin that melts is filled up with far less [common practice].
 *
 * @param machine empty for the whole site
 * @param detail may be the day on which it opens again, as {@code 2026-12-20}
 */
public record Closure(String site, Optional<String> machine, Instant since, String detail) {
    /** So long before it closed tell what an open day is. */
    public static final Duration OPEN_DAYS = Duration.ofDays(28);
    /** Both halves have to be like open days: one feast is none. */
    public static final Duration LOOKS_BACK = Duration.ofDays(2);
    /** What is made in the first day fills the bin. */
    private static final Duration FILLS_UP = Duration.ofDays(1);

    private static final double SHARE_OF_OPEN = 0.5;
    private static final int LEAST_CYCLES = 28;

    /** Cycles that were made. */
    public record Made(int openDays, int dayBefore, int lastDay) {}

    /** The moment from which on it is open by its own word. */
    public Optional<Instant> opens(ZoneId zone) {
        try {
            return Optional.of(
                    LocalDate.parse(detail.strip()).atStartOfDay(zone).toInstant());
        } catch (DateTimeParseException e) {
            return Optional.empty();
        }
    }

    /** Why it is over, in words; empty while it stands. */
    public Optional<String> over(ZoneId zone, Made made, Instant now) {
        if (opens(zone).filter(at -> at.isAfter(since) && !at.isAfter(now)).isPresent()) {
            return Optional.of("as was said when it closed");
        }
        double open = made.openDays() / (double) OPEN_DAYS.toDays();
        boolean isLongEnough = !now.isBefore(since.plus(FILLS_UP).plus(LOOKS_BACK));
        boolean isKnown = made.openDays() >= LEAST_CYCLES;
        boolean isBusy = Math.min(made.dayBefore(), made.lastDay()) >= SHARE_OF_OPEN * open;
        return isLongEnough && isKnown && isBusy
                ? Optional.of(String.format(
                        Locale.ROOT,
                        "ice is made as on open days: %d and %d cycles in two days, %.0f a day before it closed",
                        made.dayBefore(),
                        made.lastDay(),
                        open))
                : Optional.empty();
    }
}
