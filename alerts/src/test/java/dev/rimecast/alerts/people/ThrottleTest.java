package dev.rimecast.alerts.people;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

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

    /**
     * However somebody paces guesses at one-time codes, from a new address each time: without a pause, or with a rest of
     * one, six or 24 hours once a wait is longer than a minute. Three codes of a million are right at any time.
     */
    @ParameterizedTest
    @ValueSource(ints = {0, 1, 6, 24})
    void codes_guessedFromEverywhere_areFewHoweverTheyArePaced(int restHours) {
        Throttle codes = Throttle.ofCodes();
        Duration days = Duration.ofDays(30);
        Instant now = NOON;
        int made = 0;
        while (now.isBefore(NOON.plus(days))) {
            Duration wait = codes.attempt("noor", "198.51.100." + made, now);
            if (wait.isZero()) {
                made++;
            } else {
                boolean isResting = restHours > 0 && wait.compareTo(Duration.ofMinutes(1)) > 0;
                now = now.plus(isResting ? Duration.ofHours(restHours).plusSeconds(1) : wait);
            }
        }
        // four an hour, and those that come before the wait is at its longest
        assertThat(made).isLessThanOrEqualTo(4 * (int) days.toHours() + 20);
    }

    @Test
    void codes_personSignsInMeanwhile_strangersCountIsKept() {
        Throttle codes = Throttle.ofCodes();
        Instant now = NOON;
        for (int i = 0; i < 25; i++) {
            now = now.plus(Duration.ofMinutes(15));
            codes.attempt("noor", "198.51.100." + i, now);
        }
        now = now.plus(Duration.ofMinutes(15));
        assertThat(codes.attempt("noor", HERE, now)).isZero();
        codes.succeeded("noor", HERE);

        assertThat(codes.attempt("noor", "203.0.113.1", now)).isZero();
        assertThat(codes.attempt("noor", "203.0.113.2", now))
                .as("the wait is as long as before")
                .isEqualTo(Duration.ofMinutes(15));
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
