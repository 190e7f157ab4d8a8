package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.machine.Site;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.util.EnumSet;
import java.util.Set;

/**
 * The days of the week on which a site is closed, by its row of the register: from the evening before until it has been open again for
 * some hours, a machine that is off or rests misses nobody.
 */
final class ClosedDays {
    private static final int AFTER_OPENING_HOURS = 2;
    /** Of a site whose hours are not known [common practice]. */
    private static final LocalTime OPENS = LocalTime.of(10, 0);

    private static final LocalTime CLOSES = LocalTime.of(18, 0);

    private Set<DayOfWeek> closed = Set.of();
    private ZoneId zone = ZoneId.of("UTC");
    private int opensMinute = minuteOf(OPENS);
    private int closesMinute = minuteOf(CLOSES);

    void of(Site site) {
        closed = site.closedDays();
        zone = site.timeZone();
        opensMinute = minuteOf(site.open().orElse(OPENS));
        closesMinute = minuteOf(site.close().orElse(CLOSES));
    }

    private static int minuteOf(LocalTime time) {
        return time.toSecondOfDay() / 60;
    }

    /** Whether nobody is there at this time, since it belongs to a closed day. */
    boolean isClosedAt(long millis) {
        if (closed.isEmpty()) {
            return false;
        }
        ZonedDateTime local = Instant.ofEpochMilli(millis).atZone(zone);
        int minute = minuteOf(local.toLocalTime());
        DayOfWeek today = local.getDayOfWeek();
        // Open past midnight: the hours after it belong to the day before.
        boolean isPastMidnight = closesMinute < opensMinute;
        if (isPastMidnight && minute < closesMinute) {
            return closed.contains(today.minus(1));
        }
        // The same hour twice: it never closes but on its closed day.
        boolean isEvening = closesMinute > opensMinute && minute >= closesMinute;
        boolean isBeforeOpening = minute < opensMinute + AFTER_OPENING_HOURS * 60;
        return closed.contains(today)
                || (isEvening && closed.contains(today.plus(1)))
                || (isBeforeOpening && closed.contains(today.minus(1)));
    }

    void save(StateWriter out) {
        out.u8(bits());
        if (!closed.isEmpty()) {
            out.text(zone.getId()).whole(opensMinute).whole(closesMinute);
        }
    }

    private int bits() {
        int bits = 0;
        for (DayOfWeek day : closed) {
            bits |= 1 << day.ordinal();
        }
        return bits;
    }

    void restore(StateReader in) {
        int bits = in.u8();
        Set<DayOfWeek> days = EnumSet.noneOf(DayOfWeek.class);
        for (DayOfWeek day : DayOfWeek.values()) {
            if ((bits & 1 << day.ordinal()) != 0) {
                days.add(day);
            }
        }
        closed = Set.copyOf(days);
        if (!closed.isEmpty()) {
            zone = ZoneId.of(in.text());
            opensMinute = in.wholeInt();
            closesMinute = in.wholeInt();
        }
    }
}
