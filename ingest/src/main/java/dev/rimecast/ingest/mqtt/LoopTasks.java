package dev.rimecast.ingest.mqtt;

import io.vertx.core.Context;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.atomic.AtomicBoolean;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * What other threads have for the event loop. Kafka answers for hundreds of messages at once: the loop is called for the first of
 * them and finds the others, instead of being called for each.
 */
final class LoopTasks {
    private static final Logger log = LoggerFactory.getLogger(LoopTasks.class);

    private final Context loop;
    private final Queue<Runnable> due = new ConcurrentLinkedQueue<>();
    private final AtomicBoolean isCalled = new AtomicBoolean();

    LoopTasks(Context loop) {
        this.loop = loop;
    }

    /** Runs it on the loop, behind what was added before. From any thread. */
    void add(Runnable task) {
        due.add(task);
        if (isCalled.compareAndSet(false, true)) {
            loop.runOnContext(unused -> runAll());
        }
    }

    /** Runs it on the loop after a while. */
    void later(long millis, Runnable task) {
        loop.owner().setTimer(millis, unused -> task.run());
    }

    private void runAll() {
        // What is added from here on calls again: none is left behind, and one call in vain does no harm.
        isCalled.set(false);
        for (Runnable task = due.poll(); task != null; task = due.poll()) {
            try {
                task.run();
            } catch (RuntimeException e) {
                log.error("a task of the event loop failed", e);
            }
        }
    }
}
