package dev.rimecast.analytics.stream;

import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.Map;
import java.util.function.LongSupplier;
import org.apache.kafka.streams.errors.StreamsUncaughtExceptionHandler;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A stream thread that dies is replaced, three times in ten minutes for the same kind of failure; then the stage
 * stops and says why. Other instances go on: it is never the whole application that is stopped.
 */
final class ThreadReplacement implements StreamsUncaughtExceptionHandler {
    static final int REPLACEMENTS = 3;
    static final Duration WINDOW = Duration.ofMinutes(10);

    private static final Logger LOG = LoggerFactory.getLogger(ThreadReplacement.class);

    private final LongSupplier monotonicNanos;
    private final Map<Class<?>, Deque<Long>> deaths = new HashMap<>();
    private volatile String lastFailure = "";

    ThreadReplacement(LongSupplier monotonicNanos) {
        this.monotonicNanos = monotonicNanos;
    }

    @Override
    public synchronized StreamThreadExceptionResponse handle(Throwable failure) {
        Throwable root = root(failure);
        lastFailure = root.getClass().getSimpleName() + ": " + root.getMessage();
        long now = monotonicNanos.getAsLong();
        Deque<Long> recent = deaths.computeIfAbsent(root.getClass(), type -> new ArrayDeque<>());
        while (!recent.isEmpty() && now - recent.getFirst() > WINDOW.toNanos()) {
            recent.removeFirst();
        }
        recent.addLast(now);
        if (recent.size() > REPLACEMENTS) {
            LOG.error(
                    "a stream thread died for the {}. time in {} minutes, the stage stops",
                    recent.size(),
                    WINDOW.toMinutes(),
                    failure);
            return StreamThreadExceptionResponse.SHUTDOWN_CLIENT;
        }
        LOG.error("a stream thread died and is replaced", failure);
        return StreamThreadExceptionResponse.REPLACE_THREAD;
    }

    /** What the last thread died of; empty if none did. */
    String lastFailure() {
        return lastFailure;
    }

    private static Throwable root(Throwable failure) {
        Throwable cause = failure.getCause();
        return cause == null ? failure : root(cause);
    }
}
