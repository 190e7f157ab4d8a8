package dev.rimecast.ingest.broker;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

class BackoffTest {
    private static List<Long> five(Backoff backoff) {
        return Stream.generate(backoff::next).limit(5).map(Duration::toMillis).toList();
    }

    @Test
    void next_withoutLuck_doublesUpToTheLongest() {
        Backoff backoff = new Backoff(Duration.ofMillis(500), Duration.ofSeconds(3), () -> 0.999_999);

        assertThat(five(backoff)).containsExactly(500L, 1000L, 2000L, 3000L, 3000L);
    }

    @Test
    void next_withLuck_isHalf() {
        Backoff backoff = new Backoff(Duration.ofMillis(500), Duration.ofSeconds(3), () -> 0);

        assertThat(five(backoff)).containsExactly(250L, 500L, 1000L, 1500L, 1500L);
    }

    @Test
    void reset_beginsAnew() {
        Backoff backoff = new Backoff(Duration.ofMillis(500), Duration.ofSeconds(3), () -> 0);
        five(backoff);
        backoff.reset();

        assertThat(backoff.next()).isEqualTo(Duration.ofMillis(250));
    }
}
