package dev.rimecast.ingest.mqtt;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import org.junit.jupiter.api.Test;

class RateLimitTest {
    private static final long SECOND = 1_000_000_000L;

    @Test
    void burst_isFree_thenTheDebtIsWaitedOff() {
        RateLimit rate = new RateLimit(50, 3, 0);

        assertThat(rate.take(0)).isZero();
        assertThat(rate.take(0)).isZero();
        assertThat(rate.take(0)).isZero();
        assertThat(rate.take(0)).isEqualTo(Duration.ofMillis(20));
        assertThat(rate.take(0)).isEqualTo(Duration.ofMillis(40));
        assertThat(rate.take(SECOND)).isZero();
    }

    @Test
    void rest_refillsNoMoreThanTheBurst() {
        RateLimit rate = new RateLimit(1, 2, 0);

        assertThat(rate.take(3600 * SECOND)).isZero();
        assertThat(rate.take(3600 * SECOND)).isZero();
        assertThat(rate.take(3600 * SECOND)).isEqualTo(Duration.ofSeconds(1));
    }

    @Test
    void infinite_isNoLimit() {
        RateLimit rate = new RateLimit(Double.POSITIVE_INFINITY, 1, 0);

        for (int i = 0; i < 1000; i++) {
            assertThat(rate.take(0)).isZero();
        }
    }
}
