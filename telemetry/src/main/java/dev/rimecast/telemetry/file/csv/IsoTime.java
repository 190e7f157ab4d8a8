package dev.rimecast.telemetry.file.csv;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.Month;
import java.time.OffsetDateTime;
import java.time.Year;
import java.time.ZoneOffset;
import java.util.Optional;
import java.util.OptionalLong;

/** Times as the files write them: ISO 8601 with an offset, e.g. {@code 2026-05-04T02:00:12.010+02:00}. */
public final class IsoTime {
    private static final long MILLIS_PER_DAY = 86_400_000;
    private static final int LAST_YEAR = 9999;

    private IsoTime() {}

    /** Of a year with four digits: what is beyond has no room in a database, or in milliseconds. */
    public static Optional<Instant> parse(String text) {
        try {
            OffsetDateTime time = OffsetDateTime.parse(text);
            return time.getYear() >= 0 && time.getYear() <= LAST_YEAR
                    ? Optional.of(time.toInstant())
                    : Optional.empty();
        } catch (DateTimeException e) {
            return Optional.empty();
        }
    }

    /**
     * Milliseconds since 1970-01-01T00:00:00Z of the time in {@code chars}, what is finer is cut off; empty if it is
     * none.
     */
    public static OptionalLong parseMillis(char[] chars, int start, int length) {
        // The common shape, with seconds and Z: no object is made. Anything else goes to the JDK.
        if (length >= 20 && length <= 24 && chars[start + length - 1] == 'Z' && punctuated(chars, start)) {
            int year = 100 * two(chars, start) + two(chars, start + 2);
            int month = two(chars, start + 5);
            int day = two(chars, start + 8);
            int hour = two(chars, start + 11);
            int minute = two(chars, start + 14);
            int second = two(chars, start + 17);
            int millis = fraction(chars, start + 19, length - 20);
            boolean date = year >= 0 && month >= 1 && month <= 12 && day >= 1 && day <= daysIn(year, month);
            boolean time = hour >= 0 && hour < 24 && minute >= 0 && minute < 60 && second >= 0 && second < 60;
            if (date && time && millis >= 0) {
                long days = LocalDate.of(year, month, day).toEpochDay();
                return OptionalLong.of(days * MILLIS_PER_DAY + ((hour * 60L + minute) * 60 + second) * 1000 + millis);
            }
        }
        Optional<Instant> instant = parse(new String(chars, start, length));
        return instant.isPresent() ? OptionalLong.of(instant.get().toEpochMilli()) : OptionalLong.empty();
    }

    private static boolean punctuated(char[] chars, int start) {
        return chars[start + 4] == '-'
                && chars[start + 7] == '-'
                && chars[start + 10] == 'T'
                && chars[start + 13] == ':'
                && chars[start + 16] == ':';
    }

    /** Two digits, or a negative number far below what any sum of theirs can mend. */
    private static int two(char[] chars, int at) {
        int tens = chars[at] - '0';
        int ones = chars[at + 1] - '0';
        return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? 10 * tens + ones : -100_000;
    }

    /** Milliseconds of {@code .d}, {@code .dd} or {@code .ddd}; 0 of nothing; negative if it is none. */
    private static int fraction(char[] chars, int at, int length) {
        if (length == 0) {
            return 0;
        }
        if (length == 1 || chars[at] != '.') {
            return -1;
        }
        int millis = 0;
        for (int i = 1; i < 4; i++) {
            int digit = i < length ? chars[at + i] - '0' : 0;
            if (digit < 0 || digit > 9) {
                return -1;
            }
            millis = 10 * millis + digit;
        }
        return millis;
    }

    private static int daysIn(int year, int month) {
        return Month.of(month).length(Year.isLeap(year));
    }

    /** UTC with milliseconds, e.g. {@code 2026-05-04T00:00:12.010Z}. */
    public static String format(Instant instant) {
        return formatMillis(instant.toEpochMilli());
    }

    /** UTC with milliseconds of a time in milliseconds since 1970-01-01T00:00:00Z, in the years 0 to 9999. */
    public static String formatMillis(long millis) {
        LocalDate date = LocalDate.ofEpochDay(Math.floorDiv(millis, MILLIS_PER_DAY));
        int ofDay = (int) Math.floorMod(millis, MILLIS_PER_DAY);
        if (date.getYear() < 0 || date.getYear() > 9999) {
            return Instant.ofEpochMilli(millis).atOffset(ZoneOffset.UTC).toString();
        }
        StringBuilder text = new StringBuilder(24);
        digits(text, date.getYear(), 4).append('-');
        digits(text, date.getMonthValue(), 2).append('-');
        digits(text, date.getDayOfMonth(), 2).append('T');
        digits(text, ofDay / 3_600_000, 2).append(':');
        digits(text, ofDay / 60_000 % 60, 2).append(':');
        digits(text, ofDay / 1000 % 60, 2).append('.');
        return digits(text, ofDay % 1000, 3).append('Z').toString();
    }

    private static StringBuilder digits(StringBuilder text, int value, int width) {
        int power = width == 4 ? 1000 : width == 3 ? 100 : 10;
        for (; power > 0; power /= 10) {
            text.append((char) ('0' + value / power % 10));
        }
        return text;
    }
}
