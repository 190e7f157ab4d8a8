package dev.rimecast.ingest.kafka;

import java.time.Duration;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.LongSupplier;

/**
 * What is on its way to Kafka, and whether that is enough. Full at either bound; has room again at half of both, so
 * that connections aren't stopped and started for every message.
 */
final class InFlight {
    private final int maxMessages;
    private final long maxBytes;
    private final LongSupplier nanoTime;
    private final List<Runnable> listeners = new CopyOnWriteArrayList<>();
    private int messages;
    private long bytes;
    private boolean full;
    private long progressAtNanos;

    InFlight(int maxMessages, long maxBytes, LongSupplier nanoTime) {
        this.maxMessages = maxMessages;
        this.maxBytes = maxBytes;
        this.nanoTime = nanoTime;
    }

    synchronized void add(long size) {
        if (messages == 0) {
            progressAtNanos = nanoTime.getAsLong();
        }
        messages++;
        bytes += size;
        full = full || messages >= maxMessages || bytes >= maxBytes;
    }

    void remove(long size) {
        boolean hasRoomNow;
        synchronized (this) {
            messages--;
            bytes -= size;
            progressAtNanos = nanoTime.getAsLong();
            hasRoomNow = full && messages <= maxMessages / 2 && bytes <= maxBytes / 2;
            if (hasRoomNow) {
                full = false;
            }
        }
        if (hasRoomNow) {
            listeners.forEach(Runnable::run);
        }
    }

    synchronized boolean isFull() {
        return full;
    }

    synchronized int messages() {
        return messages;
    }

    synchronized long bytes() {
        return bytes;
    }

    /** How long nothing has been confirmed although something waits for it; zero where nothing waits. */
    synchronized Duration stalledFor() {
        return messages == 0 ? Duration.ZERO : Duration.ofNanos(nanoTime.getAsLong() - progressAtNanos);
    }

    void onRoom(Runnable listener) {
        listeners.add(listener);
    }
}
