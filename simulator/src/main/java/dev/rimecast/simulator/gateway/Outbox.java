package dev.rimecast.simulator.gateway;

import dev.rimecast.telemetry.log.PackNumber;
import java.util.Optional;
import java.util.TreeSet;

/**
 * What to send next: in the order of the numbers, no more under way than the server allows, after a break again from
 * the first pack that may be lost, and no faster than the pace while there is a backlog. Knows no transport and reads
 * no clock; times are nanoseconds of a monotonic clock.
 */
final class Outbox {
    private final PackStore store;
    private final Pace pace;
    private final TreeSet<Long> underWay = new TreeSet<>();
    private int window;
    private long lastSent;
    private long receiptedUpTo;
    private long coveredUpTo;
    /** The last pack of the backlog. */
    private long backlogEnd;

    private long nextBacklogNanos;
    private long progressNanos;

    Outbox(PackStore store, Pace pace) {
        this.store = store;
        this.pace = pace;
    }

    /** A line is up; nothing of the last one is under way any more. */
    void connected(int mostUnderWay, long now) {
        window = mostUnderWay;
        fromTheFirst(now);
    }

    /** The line is down: nothing can be sent. */
    void disconnected() {
        window = 0;
    }

    private void fromTheFirst(long now) {
        underWay.clear();
        lastSent = store.waitsForCover() ? coveredUpTo : 0;
        backlogEnd = store.lastSeq();
        nextBacklogNanos = now;
        progressNanos = now;
    }

    /** The next pack to send now; it counts as sent. */
    Optional<PackStore.Numbered> next(long now) {
        if (underWay.size() >= window || waitNanos(now) > 0) {
            return Optional.empty();
        }
        Optional<PackStore.Numbered> next = store.after(lastSent);
        next.ifPresent(pack -> {
            if (pack.seq() <= backlogEnd) {
                nextBacklogNanos = now + pace.nanosBetween();
            }
            lastSent = pack.seq();
            underWay.add(pack.seq());
        });
        return next;
    }

    /** How long to wait before the next pack of the backlog may leave; 0: it may now, or there is none. */
    long waitNanos(long now) {
        return lastSent < backlogEnd ? Math.max(0, nextBacklogNanos - now) : 0;
    }

    void receipt(long seq) {
        underWay.remove(seq);
        store.receipt(seq);
        receiptedUpTo = Math.max(receiptedUpTo, underWay.isEmpty() ? lastSent : underWay.first() - 1);
    }

    void covered(PackNumber upTo, long now) {
        store.covered(upTo);
        if (upTo.boot().equals(store.boot()) && upTo.seq() > coveredUpTo) {
            coveredUpTo = Math.min(upTo.seq(), store.lastSeq());
            receiptedUpTo = Math.max(receiptedUpTo, coveredUpTo);
            progressNanos = now;
        }
    }

    /** Sends again what has its receipt and is not covered, where that has lasted too long. */
    void againIfStalled(long now) {
        boolean isWaiting = store.waitsForCover() && underWay.isEmpty() && lastSent > coveredUpTo;
        if (!isWaiting) {
            progressNanos = Math.max(progressNanos, underWay.isEmpty() ? now : progressNanos);
        } else if (now - progressNanos >= pace.againAfter().toNanos()) {
            fromTheFirst(now);
        }
    }

    Pace pace() {
        return pace;
    }

    /** Whether this pack and all before it have had their receipt. */
    boolean isReceipted(long seq) {
        return receiptedUpTo >= seq;
    }
}
