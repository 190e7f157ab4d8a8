package dev.rimecast.alerts.notice.send;

import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.util.Optional;

/** The header Retry-After: seconds, or a date (RFC 9110 section 10.2.3). */
final class RetryAfter {
    /** More than this is taken for a mistake. */
    static final Duration LONGEST = Duration.ofDays(7);

    private static final int MOST_DIGITS = 10;

    private RetryAfter() {}

    /** How long to wait; empty where the text says nothing. */
    static Optional<Duration> of(String text, Instant now) {
        String value = text.strip();
        if (!value.isEmpty() && value.length() <= MOST_DIGITS && value.chars().allMatch(c -> c >= '0' && c <= '9')) {
            return Optional.of(limited(Duration.ofSeconds(Long.parseLong(value))));
        }
        try {
            Instant at = ZonedDateTime.parse(value, DateTimeFormatter.RFC_1123_DATE_TIME)
                    .toInstant();
            return Optional.of(at.isAfter(now) ? limited(Duration.between(now, at)) : Duration.ZERO);
        } catch (DateTimeException e) {
            return Optional.empty();
        }
    }

    private static Duration limited(Duration asked) {
        return asked.compareTo(LONGEST) > 0 ? LONGEST : asked;
    }
}
