package dev.rimecast.app.server;

import dev.rimecast.dashboard.HealthView;
import dev.rimecast.dashboard.system.Probes;
import java.lang.management.ManagementFactory;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.function.LongSupplier;
import java.util.function.Supplier;

/**
 * How the process stands, for whoever looks after it. Asked by anybody as often as they like, so what takes time to find out is kept
 * for a moment.
 */
final class Standing implements Probes {
    /** Shorter than any probe's or scrape's interval. */
    private static final Duration KEPT = Duration.ofSeconds(2);

    private final Kept<List<String>> deadlocks;
    private final Kept<Optional<HealthView>> view;
    private final Kept<List<String>> unready;
    private volatile Optional<Health> health = Optional.empty();
    private volatile boolean isStopping;

    Standing() {
        this(Standing::deadlocked, System::nanoTime);
    }

    /** @param deadlocked names of parts of the process that wait for each other */
    Standing(Supplier<List<String>> deadlocked, LongSupplier monotonicNanos) {
        this.deadlocks = new Kept<>(deadlocked, monotonicNanos);
        this.view = new Kept<>(() -> health.map(Health::get), monotonicNanos);
        this.unready = new Kept<>(() -> health.map(Health::unready).orElse(List.of("starting")), monotonicNanos);
    }

    /** Every part has started. */
    void started(Health of) {
        health = Optional.of(of);
    }

    /** The process was told to end. */
    void stopping() {
        isStopping = true;
    }

    /** How the stages are; empty until all have started. */
    Optional<HealthView> view() {
        return view.get();
    }

    @Override
    public Answer live() {
        List<String> waiting = deadlocks.get();
        return new Answer(
                waiting.isEmpty() && !isStopping ? health.map(Health::ended).orElse(List.of()) : waiting);
    }

    @Override
    public Answer ready() {
        return new Answer(isStopping ? List.of("stopping") : unready.get());
    }

    private static List<String> deadlocked() {
        long[] threads = ManagementFactory.getThreadMXBean().findDeadlockedThreads();
        return threads == null ? List.of() : List.of("deadlock");
    }

    /** What was found out a moment ago; whoever asks first after that waits, and the others with it. */
    private static final class Kept<T> {
        private final Supplier<T> found;
        private final LongSupplier monotonicNanos;
        private Optional<T> last = Optional.empty();
        private long at;

        Kept(Supplier<T> found, LongSupplier monotonicNanos) {
            this.found = found;
            this.monotonicNanos = monotonicNanos;
        }

        synchronized T get() {
            if (last.isEmpty() || monotonicNanos.getAsLong() - at > KEPT.toNanos()) {
                last = Optional.of(found.get());
                at = monotonicNanos.getAsLong();
            }
            return last.get();
        }
    }
}
