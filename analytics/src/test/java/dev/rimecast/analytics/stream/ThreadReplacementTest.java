package dev.rimecast.analytics.stream;

import static org.apache.kafka.streams.errors.StreamsUncaughtExceptionHandler.StreamThreadExceptionResponse.REPLACE_THREAD;
import static org.apache.kafka.streams.errors.StreamsUncaughtExceptionHandler.StreamThreadExceptionResponse.SHUTDOWN_CLIENT;
import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;

class ThreadReplacementTest {
    private final AtomicLong nanos = new AtomicLong();
    private final ThreadReplacement threads = new ThreadReplacement(nanos::get);

    @Test
    void fourthDeathWithinTheWindow_stopsTheStage() {
        for (int i = 0; i < 3; i++) {
            assertThat(threads.handle(wrapped("broken"))).isEqualTo(REPLACE_THREAD);
        }
        assertThat(threads.handle(wrapped("broken"))).isEqualTo(SHUTDOWN_CLIENT);
        assertThat(threads.lastFailure()).isEqualTo("IllegalStateException: broken");
    }

    @Test
    void deathsFarApart_areEachForgiven() {
        for (int i = 0; i < 10; i++) {
            assertThat(threads.handle(wrapped("broken"))).isEqualTo(REPLACE_THREAD);
            nanos.addAndGet(Duration.ofMinutes(4).toNanos());
        }
    }

    @Test
    void deathsOfAnotherKind_areCountedApart() {
        for (int i = 0; i < 3; i++) {
            threads.handle(wrapped("broken"));
        }
        assertThat(threads.handle(new RuntimeException(new IllegalArgumentException("other"))))
                .isEqualTo(REPLACE_THREAD);
    }

    private static RuntimeException wrapped(String message) {
        return new RuntimeException("outer", new IllegalStateException(message));
    }
}
