package dev.rimecast.telemetry.net;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

@Timeout(60)
class ClientThreadsTest {
    private final ClientThreads threads = new ClientThreads();

    @Test
    void awaitEnd_withoutThreads_returnsAtOnce_andStopsNothing() {
        AtomicInteger stops = new AtomicInteger();

        threads.awaitEnd(stops::incrementAndGet);

        assertThat(stops).hasValue(0);
    }

    @Test
    void awaitEnd_whileAThreadDoesNotHear_tellsItAgain_andReturnsWhenItHasEnded() {
        CountDownLatch heard = new CountDownLatch(2);
        AtomicBoolean ended = new AtomicBoolean();
        threads.execute(() -> {
            awaitUninterrupted(heard);
            ended.set(true);
        });

        threads.awaitEnd(heard::countDown);

        assertThat(ended).isTrue();
    }

    @Test
    void task_thatIsCancelled_isNotInterrupted_andRunsToItsEnd() throws Exception {
        CountDownLatch begun = new CountDownLatch(1);
        CountDownLatch cancelled = new CountDownLatch(1);
        AtomicBoolean interrupted = new AtomicBoolean();
        Future<?> task = threads.submit(() -> {
            begun.countDown();
            interrupted.set(!awaitUninterrupted(cancelled));
        });
        begun.await();

        boolean isCancelled = task.cancel(true);
        cancelled.countDown();
        task.get(30, TimeUnit.SECONDS);

        assertThat(isCancelled).isFalse();
        assertThat(interrupted).isFalse();
    }

    private static boolean awaitUninterrupted(CountDownLatch latch) {
        try {
            latch.await();
            return true;
        } catch (InterruptedException e) {
            return false;
        }
    }
}
