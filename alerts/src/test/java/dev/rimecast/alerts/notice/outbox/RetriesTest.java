package dev.rimecast.alerts.notice.outbox;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.HashSet;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class RetriesTest {

    @Test
    void pauses_growFourfoldUpToHalfADay_eachAFifthLongerOrShorter() {
        Retries retries = new Retries(new SplittableRandom(20261128));
        long[] seconds = {5, 20, 80, 320, 1_280, 5_120, 20_480, 43_200, 43_200, 43_200, 43_200};
        Set<Duration> seen = new HashSet<>();
        for (int round = 0; round < 100; round++) {
            for (int attempts = 1; attempts <= seconds.length; attempts++) {
                Duration pause = retries.next(attempts, Optional.empty()).orElseThrow();
                long millis = 1_000 * seconds[attempts - 1];
                assertThat(pause.toMillis()).isBetween(millis * 8 / 10 - 1, millis * 12 / 10 + 1);
                seen.add(pause);
            }
        }
        assertThat(seen).as("no two alike").hasSizeGreaterThan(1_000);
        assertThat(retries.next(Retries.MOST_ATTEMPTS, Optional.empty())).isEmpty();
    }

    @Test
    void whatTheReceiverAskedFor_isNeverCutShort() {
        Retries retries = new Retries(new SplittableRandom(1));
        assertThat(retries.next(1, Optional.of(Duration.ofDays(1)))).contains(Duration.ofDays(1));
        assertThat(retries.next(8, Optional.of(Duration.ofSeconds(1))).orElseThrow())
                .isGreaterThan(Duration.ofHours(9));
    }
}
