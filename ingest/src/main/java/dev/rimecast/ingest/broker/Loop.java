package dev.rimecast.ingest.broker;

import java.time.Duration;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** One thread that does one thing after the other. A task that fails is logged, and the next one runs. */
final class Loop implements AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(Loop.class);
    private static final long STOP_TIMEOUT_SECONDS = 5;

    private final ScheduledExecutorService thread;

    Loop(String name) {
        thread = Executors.newSingleThreadScheduledExecutor(task -> {
            Thread made = new Thread(task, name);
            made.setDaemon(true);
            return made;
        });
    }

    /** Has a task run soon, after those before it. On a loop that is closed nothing happens. */
    void run(Runnable task) {
        after(Duration.ZERO, task);
    }

    void after(Duration wait, Runnable task) {
        try {
            var unused = thread.schedule(guarded(task), wait.toNanos(), TimeUnit.NANOSECONDS);
        } catch (RejectedExecutionException closed) {
            log.debug("not run any more", closed);
        }
    }

    private static Runnable guarded(Runnable task) {
        return () -> {
            try {
                task.run();
            } catch (RuntimeException e) {
                log.error("a task of the broker's loop failed", e);
            }
        };
    }

    /** Returns when every task handed in so far has run. */
    void settle() {
        try {
            Future<?> end = thread.schedule(() -> {}, 0, TimeUnit.NANOSECONDS);
            end.get(STOP_TIMEOUT_SECONDS, TimeUnit.SECONDS);
        } catch (RejectedExecutionException closed) {
            log.debug("nothing to wait for", closed);
        } catch (ExecutionException | TimeoutException e) {
            throw new IllegalStateException("the broker's loop does not answer", e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted", e);
        }
    }

    /** Lets what is due run, forgets what is due later, and ends. */
    @Override
    public void close() {
        try {
            settle();
        } catch (IllegalStateException e) {
            log.warn("the broker's loop is ended while it is busy");
        }
        thread.shutdownNow();
    }
}
