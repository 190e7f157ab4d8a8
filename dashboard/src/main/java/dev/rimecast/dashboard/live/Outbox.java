package dev.rimecast.dashboard.live;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * What one screen has not been sent yet. Bounded: a newer event replaces an older one about the same thing, and a screen
 * that falls further behind is told to load everything again instead.
 */
final class Outbox {
    /** What there is to do next. */
    sealed interface Next {
        record Send(List<LiveEvent> events) implements Next {}

        /** Too much was missed: load everything again. */
        record Reset(long upTo) implements Next {}

        /** Nothing happened for the time that was given. */
        record Quiet() implements Next {}

        record End() implements Next {}
    }

    private final int capacity;
    private final Map<String, LiveEvent> waiting = new LinkedHashMap<>();
    private boolean reset;
    private long newest;
    private boolean closed;

    Outbox(int capacity) {
        this.capacity = capacity;
    }

    synchronized void offer(LiveEvent event) {
        newest = Math.max(newest, event.number());
        if (closed || (reset && event.number() > 0)) {
            return;
        }
        String key = event.kind() + ' ' + event.subject();
        waiting.remove(key);
        waiting.put(key, event);
        if (waiting.size() > capacity) {
            requireReset(newest);
        }
        notifyAll();
    }

    synchronized void requireReset(long upTo) {
        waiting.clear();
        newest = Math.max(newest, upTo);
        reset = true;
        notifyAll();
    }

    synchronized void close() {
        closed = true;
        notifyAll();
    }

    /** Waits for something to send. The pause before it lets a burst gather into one event per subject. */
    synchronized Next take(Duration pause, Duration atMost) throws InterruptedException {
        waitUnless(() -> false, pause);
        waitUnless(() -> reset || !waiting.isEmpty(), atMost);
        if (closed) {
            return new Next.End();
        }
        if (reset) {
            reset = false;
            return new Next.Reset(newest);
        }
        if (waiting.isEmpty()) {
            return new Next.Quiet();
        }
        List<LiveEvent> events = List.copyOf(waiting.values());
        waiting.clear();
        return new Next.Send(events);
    }

    private void waitUnless(java.util.function.BooleanSupplier ready, Duration atMost) throws InterruptedException {
        long end = System.nanoTime() + atMost.toNanos();
        long left = atMost.toNanos();
        while (!closed && !ready.getAsBoolean() && left > 0) {
            wait(left / 1_000_000, (int) (left % 1_000_000));
            left = end - System.nanoTime();
        }
    }
}
