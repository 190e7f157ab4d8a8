package dev.rimecast.alerts.notice;

import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.EnumMap;
import java.util.Map;

/**
 * When a receiver wants to be told, in its own time zone. A day's span that ends before it begins goes on into the next
 * day; one that ends when it begins is the whole day.
 *
 * <p>Beginnings and ends are moments of the local clock, so a day of 23 or 25 hours moves them with it: a time that the
 * clock leaves out is as much later as the clock jumps, and of one that comes twice the first counts ({@link
 * java.time.ZonedDateTime#of}).
 *
 * @param days no span: not on that day
 */
public record OpeningHours(ZoneId zone, Map<DayOfWeek, Span> days) {
    /** A gap may move a beginning into the next day, never further. */
    private static final int DAYS_AHEAD = 8;

    /** From {@code open}, included, to {@code close}, excluded. */
    public record Span(LocalTime open, LocalTime close) {
        boolean endsNextDay() {
            return !close.isAfter(open);
        }
    }

    public OpeningHours {
        days = Map.copyOf(days);
        if (days.isEmpty()) {
            throw new IllegalArgumentException("hours name no day: leave them out to be told at any time");
        }
    }

    /** The same span on every day. */
    public static OpeningHours daily(ZoneId zone, LocalTime open, LocalTime close) {
        Map<DayOfWeek, Span> days = new EnumMap<>(DayOfWeek.class);
        for (DayOfWeek day : DayOfWeek.values()) {
            days.put(day, new Span(open, close));
        }
        return new OpeningHours(zone, days);
    }

    public boolean isOpen(Instant at) {
        LocalDate today = at.atZone(zone).toLocalDate();
        return isWithin(at, today.minusDays(1)) || isWithin(at, today);
    }

    private boolean isWithin(Instant at, LocalDate day) {
        Span span = days.get(day.getDayOfWeek());
        return span != null && !at.isBefore(moment(day, span.open())) && at.isBefore(end(day, span));
    }

    private Instant end(LocalDate day, Span span) {
        return moment(span.endsNextDay() ? day.plusDays(1) : day, span.close());
    }

    private Instant moment(LocalDate day, LocalTime time) {
        return day.atTime(time).atZone(zone).toInstant();
    }

    /** {@code at} itself within the hours, else their next beginning. */
    public Instant nextOpen(Instant at) {
        if (isOpen(at)) {
            return at;
        }
        LocalDate today = at.atZone(zone).toLocalDate();
        for (int ahead = 0; ahead <= DAYS_AHEAD; ahead++) {
            LocalDate day = today.plusDays(ahead);
            Span span = days.get(day.getDayOfWeek());
            if (span != null && !moment(day, span.open()).isBefore(at)) {
                return moment(day, span.open());
            }
        }
        throw new IllegalStateException("no beginning within " + DAYS_AHEAD + " days of " + at + " in " + days);
    }
}
