package dev.rimecast.alerts.people;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import org.junit.jupiter.api.Test;

class ThrottleTest {
    private static final Instant NOON = Instant.parse("2026-05-04T12:00:00Z");
    private static final String HERE = "192.0.2.1";

    private final Throttle throttle = new Throttle();

    @Test
    void attempt_fiveFailures_areFreeAndTheSixthWaits() {
        for (int i = 0; i < 5; i++) {
            assertThat(throttle.attempt("noor", HERE, NOON)).isZero();
        }
        assertThat(throttle.attempt("noor", HERE, NOON)).isEqualTo(Duration.ofSeconds(1));
        assertThat(throttle.attempt("NOOR", HERE, NOON)).as("the same account").isPositive();
        assertThat(throttle.attempt("noor", HERE, NOON.plusSeconds(1))).isZero();
        assertThat(throttle.attempt("noor", HERE, NOON.plusSeconds(1))).isEqualTo(Duration.ofSeconds(2));
    }

    @Test
    void attempt_guessedForADay_isAllowedAFewHundredTimesAndNeverLocksOut() {
        Instant now = NOON;
        int made = 0;
        Duration longest = Duration.ZERO;
        while (now.isBefore(NOON.plus(Duration.ofDays(1)))) {
            Duration wait = throttle.attempt("noor", HERE, now);
            if (wait.isZero()) {
                made++;
            } else {
                longest = wait.compareTo(longest) > 0 ? wait : longest;
                now = now.plus(wait);
            }
        }
        assertThat(made).isLessThan(310);
        assertThat(longest).isEqualTo(Duration.ofMinutes(5));
        assertThat(throttle.attempt("noor", "192.0.2.2", now.plusSeconds(10)))
                .as("the person, from elsewhere")
                .isZero();
    }

    @Test
    void attempt_oneAddressAndManyNames_waitsToo() {
        for (int i = 0; i < 30; i++) {
            assertThat(throttle.attempt("name-" + i, HERE, NOON)).isZero();
        }
        assertThat(throttle.attempt("another", HERE, NOON)).isPositive();
        assertThat(throttle.attempt("another", "192.0.2.2", NOON)).isZero();
    }

    @Test
    void attempt_manyAddressesAndOneName_costsThePersonSeconds() {
        for (int i = 0; i < 200; i++) {
            throttle.attempt("noor", "198.51.100." + i, NOON.plusSeconds(i * 11L));
        }
        assertThat(throttle.attempt("noor", HERE, NOON.plusSeconds(199 * 11L)))
                .isPositive()
                .isLessThanOrEqualTo(Duration.ofSeconds(10));
    }

    @Test
    void succeeded_afterFailures_forgetsThoseOfTheAccountFromThere() {
        for (int i = 0; i < 5; i++) {
            throttle.attempt("noor", HERE, NOON);
        }
        throttle.succeeded("noor", HERE);

        assertThat(throttle.attempt("noor", HERE, NOON)).isZero();
    }

    @Test
    void attempt_anHourLater_isForgotten() {
        for (int i = 0; i < 5; i++) {
            throttle.attempt("noor", HERE, NOON);
        }
        for (int i = 0; i < 5; i++) {
            assertThat(throttle.attempt("noor", HERE, NOON.plus(Duration.ofMinutes(61))))
                    .isZero();
        }
    }
}
