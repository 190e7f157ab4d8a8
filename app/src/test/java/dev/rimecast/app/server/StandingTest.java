package dev.rimecast.app.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.BrokenBarrierException;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.ReentrantLock;
import org.junit.jupiter.api.Test;

class StandingTest {
    private static final Health NO_STAGES = new Health(
            Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), List.of(), Optional::empty);

    private final List<String> deadlocked = new ArrayList<>();
    private final AtomicLong nanos = new AtomicLong();
    private final Standing standing = new Standing(() -> List.copyOf(deadlocked), nanos::get);

    private void later() {
        nanos.addAndGet(TimeUnit.SECONDS.toNanos(3));
    }

    @Test
    void standing_whileItStarts_isLiveAndNotReady() {
        assertThat(standing.live().isYes()).isTrue();
        assertThat(standing.ready().failing()).containsExactly("starting");
        assertThat(standing.view()).isEmpty();

        standing.started(NO_STAGES);
        later();

        assertThat(standing.ready().isYes()).isTrue();
        assertThat(standing.view()).isPresent();
    }

    @Test
    void standing_whileItStops_isLiveAndNotReady() {
        standing.started(NO_STAGES);

        standing.stopping();

        assertThat(standing.live().isYes()).isTrue();
        assertThat(standing.ready().failing()).containsExactly("stopping");
    }

    @Test
    void standing_withThreadsThatWaitForEachOther_isNotLive() {
        standing.started(NO_STAGES);
        assertThat(standing.live().isYes()).isTrue();

        deadlocked.add("deadlock");

        assertThat(standing.live().isYes()).as("looked a moment ago").isTrue();
        later();
        assertThat(standing.live().failing()).containsExactly("deadlock");
    }

    @Test
    void standing_ofARealDeadlock_seesIt() throws Exception {
        ReentrantLock one = new ReentrantLock();
        ReentrantLock other = new ReentrantLock();
        CyclicBarrier both = new CyclicBarrier(2);
        List<Thread> threads = List.of(taking(one, other, both), taking(other, one, both));
        threads.forEach(Thread::start);
        await().until(() ->
                threads.stream().allMatch(thread -> one.hasQueuedThread(thread) || other.hasQueuedThread(thread)));

        assertThat(new Standing().live().failing()).containsExactly("deadlock");

        threads.forEach(Thread::interrupt);
        for (Thread thread : threads) {
            thread.join();
        }
        assertThat(new Standing().live().isYes()).isTrue();
    }

    private static Thread taking(ReentrantLock first, ReentrantLock second, CyclicBarrier both) {
        Thread thread = new Thread(() -> {
            first.lock();
            try {
                both.await();
                second.lockInterruptibly();
                second.unlock();
            } catch (InterruptedException | BrokenBarrierException end) {
                Thread.currentThread().interrupt();
            } finally {
                first.unlock();
            }
        });
        thread.setDaemon(true);
        return thread;
    }
}
