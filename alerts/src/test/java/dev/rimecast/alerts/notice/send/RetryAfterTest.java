package dev.rimecast.alerts.notice.send;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import org.junit.jupiter.api.Test;

/** RFC 9110 section 10.2.3, with its own two examples. */
class RetryAfterTest {
    private static final Instant NOW = Instant.parse("1999-12-31T23:58:59Z");

    @Test
    void secondsAndDate_areUnderstood_andNonsenseIsNot() {
        assertThat(RetryAfter.of("120", NOW)).contains(Duration.ofSeconds(120));
        assertThat(RetryAfter.of("Fri, 31 Dec 1999 23:59:59 GMT", NOW)).contains(Duration.ofSeconds(60));
        assertThat(RetryAfter.of("Fri, 31 Dec 1999 23:00:00 GMT", NOW)).contains(Duration.ZERO);
        assertThat(RetryAfter.of("9999999999", NOW)).contains(RetryAfter.LONGEST);
        assertThat(RetryAfter.of("soon", NOW)).isEmpty();
        assertThat(RetryAfter.of("-1", NOW)).isEmpty();
        assertThat(RetryAfter.of("", NOW)).isEmpty();
        assertThat(RetryAfter.of("١٢٠", NOW)).isEmpty();
    }
}
