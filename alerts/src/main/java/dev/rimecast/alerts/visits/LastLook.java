package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.visits.plan.PartOrder;
import dev.rimecast.alerts.visits.plan.Waiting;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.LongSupplier;
import java.util.function.Supplier;

/**
 * What planning finds beside the visits: what waits, and what is to be ordered. No table has it. Where several processes share
 * planning, only one of them has planned last: another one looks for itself when it is asked and something has changed since.
 */
final class LastLook {
    /** Of real time: looking reads every open case. */
    private static final long LEAST_NANOS = Duration.ofSeconds(2).toNanos();

    private final Supplier<String> mark;
    private final LongSupplier nanoTime;
    private final ReentrantLock looking = new ReentrantLock();
    private volatile Known known = new Known(List.of(), Map.of());
    private volatile String at = "";
    private volatile long askedNanos;

    /** @param orders of each need that has any */
    record Known(List<Waiting> waiting, Map<String, List<PartOrder>> orders) {
        Known {
            waiting = List.copyOf(waiting);
            orders = Map.copyOf(orders);
        }
    }

    /** @param mark as that of {@link VisitPass}; empty for ever where nobody else plans */
    LastLook(Supplier<String> mark, LongSupplier nanoTime) {
        this.mark = mark;
        this.nanoTime = nanoTime;
        this.askedNanos = nanoTime.getAsLong() - LEAST_NANOS;
    }

    /** Planning has found this. @param look reads, and may write visits, which is no change to look at again */
    Known by(Supplier<Known> look) {
        String before = mark.get();
        Known found = look.get();
        known = found;
        at = VisitPass.seen(before, mark.get());
        askedNanos = nanoTime.getAsLong();
        return found;
    }

    /**
     * As it is now, or was two seconds ago, or when somebody else began to look; whoever comes before the first look has ended waits for it.
     *
     * @param look reads only: whatever changes meanwhile is somebody else's, and looked at the next time
     */
    Known now(Supplier<Known> look) {
        if (nanoTime.getAsLong() - askedNanos < LEAST_NANOS) {
            return known;
        }
        String asked = mark.get();
        if (asked.equals(at)) {
            askedNanos = nanoTime.getAsLong();
            return known;
        }
        if (at.isEmpty()) {
            looking.lock();
        } else if (!looking.tryLock()) {
            return known;
        }
        try {
            if (!asked.equals(at)) {
                known = look.get();
                at = asked;
                askedNanos = nanoTime.getAsLong();
            }
            return known;
        } finally {
            looking.unlock();
        }
    }
}
