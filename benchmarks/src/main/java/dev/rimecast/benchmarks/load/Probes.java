package dev.rimecast.benchmarks.load;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentLinkedQueue;

/**
 * Machines that were made too hot, and how long each took to become an alert. Beside it stands how far analytics was behind: a load
 * that is more than the machine can take ends in a queue, and then these times are the queue's, however fast one reading is judged.
 */
final class Probes {
    /** What may wait at the ends of a run, in seconds of its load. */
    private static final double QUEUE_SECONDS = 1;

    private final Map<String, Long> waiting = new ConcurrentHashMap<>();
    private final ConcurrentLinkedQueue<Double> millis = new ConcurrentLinkedQueue<>();

    void sent(String machine, long nanos) {
        waiting.put(machine, nanos);
    }

    /** Returns whether somebody has waited for it. */
    boolean alert(String machine, long nanos) {
        Long at = waiting.remove(machine);
        if (at == null) {
            return false;
        }
        millis.add((nanos - at) / 1e6);
        return true;
    }

    boolean areAllAlerts() {
        return waiting.isEmpty();
    }

    /** Forgets those of the time before. */
    void clear() {
        waiting.clear();
        millis.clear();
    }

    /** Everything analytics had been given must have been done before, so that what is missing has been missed. */
    Measure tell(Measure measure) {
        List<Double> sorted = new ArrayList<>(millis);
        sorted.sort(Double::compare);
        Measure told = measure.with("probes", (double) sorted.size() + waiting.size())
                .with("without an alert", waiting.size());
        return sorted.isEmpty()
                ? told
                : told.with("median ms", sorted.get(sorted.size() / 2))
                        .with("99 % within ms", sorted.get((int) Math.ceil(sorted.size() * 0.99) - 1));
    }

    /**
     * Why the times are none of the product, if they are not.
     *
     * @param asked packs a second
     * @param told packs a second that had their receipt
     * @param before packs that analytics was behind when the first probe was sent
     * @param after and when the last one was
     * @param caughtUp seconds until it was behind no more; nothing where it still was long after the load had ended
     */
    static Optional<String> doubt(double asked, double told, double before, double after, OptionalDouble caughtUp) {
        if (caughtUp.isEmpty()) {
            return Optional.of(String.format(
                    Locale.ROOT,
                    "analytics was %,.0f packs behind in the end and did not catch up: what is missing may be in the queue",
                    after));
        }
        if (Math.max(before, after) <= asked * QUEUE_SECONDS && told >= 0.9 * asked) {
            return Optional.empty();
        }
        return Optional.of(String.format(
                Locale.ROOT,
                "this machine could not take %,.0f packs/s: %,.0f had receipts, analytics was %,.0f packs behind before"
                        + " and %,.0f after, and caught up in %.1f s: times are those of a queue",
                asked,
                told,
                before,
                after,
                caughtUp.getAsDouble()));
    }
}
