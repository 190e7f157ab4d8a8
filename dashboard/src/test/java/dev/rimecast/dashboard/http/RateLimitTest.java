package dev.rimecast.dashboard.http;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;

class RateLimitTest {
    private final AtomicLong nanos = new AtomicLong();
    private final RateLimit limit = new RateLimit(6, nanos::get);

    private void burst() {
        for (int i = 0; i < 6; i++) {
            assertThat(limit.waitSeconds("a")).isZero();
        }
    }

    @Test
    void burst_asManyAsAMinuteAllows_thenWaitsForTheNext() {
        burst();

        assertThat(limit.waitSeconds("a")).isEqualTo(10);
        assertThat(limit.waitSeconds("b")).as("somebody else").isZero();
    }

    @Test
    void wait_asLongAsWasSaid_letsOneThrough() {
        burst();
        nanos.addAndGet(Duration.ofSeconds(10).toNanos());

        assertThat(limit.waitSeconds("a")).isZero();
        assertThat(limit.waitSeconds("a")).isPositive();
    }

    @Test
    void rest_ofAnHour_givesNoMoreThanOneBurst() {
        burst();
        nanos.addAndGet(Duration.ofHours(1).toNanos());
        burst();

        assertThat(limit.waitSeconds("a")).isPositive();
    }
}
