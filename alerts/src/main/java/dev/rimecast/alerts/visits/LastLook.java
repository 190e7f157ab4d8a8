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
    private volatile long atNanos;

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
        this.atNanos = nanoTime.getAsLong() - LEAST_NANOS;
    }

    /** Planning, or looking, has found this. @param look reads, and may write visits */
    Known by(Supplier<Known> look) {
        String before = mark.get();
        Known found = look.get();
        known = found;
        at = VisitPass.seen(before, mark.get());
        atNanos = nanoTime.getAsLong();
        return found;
    }

    /** As it is now, or was two seconds ago. @param look reads only */
    Known now(Supplier<Known> look) {
        if (nanoTime.getAsLong() - atNanos >= LEAST_NANOS && !mark.get().equals(at) && looking.tryLock()) {
            try {
                return by(look);
            } finally {
                looking.unlock();
            }
        }
        return known;
    }
}
