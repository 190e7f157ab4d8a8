package dev.rimecast.dashboard.api;

import java.time.Duration;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Executor;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import java.util.function.LongSupplier;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Many screens ask for the same list, so one answer serves all that ask the same, until an alert changes. What is
 * older than a second is made anew behind the back of who asks; what is older than five nobody gets, but waits for a new
 * one.
 *
 * @param <Q> a question, with the sites that may be seen
 * @param <A> its answer, ready to be sent
 */
final class KeptAnswers<Q, A> {
    static final Duration FRESH = Duration.ofSeconds(1);
    static final Duration OLDEST = Duration.ofSeconds(5);

    private static final Logger LOG = LoggerFactory.getLogger(KeptAnswers.class);
    private static final int MOST_KEPT = 50;

    /** @param tookNanos how long it took to build */
    private record Kept<A>(A answer, long changes, long builtNanos, long tookNanos) {}

    private final LongSupplier changes;
    private final LongSupplier monotonicNanos;
    private final Executor behind;
    /** What is built while somebody waits for it. */
    private final Map<Q, CompletableFuture<Void>> building = new HashMap<>();

    private final Set<Q> renewing = new HashSet<>();
    private final Map<Q, Kept<A>> kept = new LinkedHashMap<>(16, 0.75f, true) {
        private static final long serialVersionUID = 1L;

        @Override
        protected boolean removeEldestEntry(Map.Entry<Q, Kept<A>> eldest) {
            return size() > MOST_KEPT;
        }
    };
    /** How long it took to build the last one, nanoseconds; not forgotten with it. */
    private final Map<Q, Long> took = new LinkedHashMap<>(16, 0.75f, true) {
        private static final long serialVersionUID = 1L;

        @Override
        protected boolean removeEldestEntry(Map.Entry<Q, Long> eldest) {
            return size() > MOST_KEPT;
        }
    };

    private long forgotten;

    /**
     * @param changes grows with every change of an alert
     * @param behind runs what nobody waits for
     */
    KeptAnswers(LongSupplier changes, LongSupplier monotonicNanos, Executor behind) {
        this.changes = changes;
        this.monotonicNanos = monotonicNanos;
        this.behind = behind;
    }

    /** One thread for what nobody waits for, and none while nobody asks. */
    static Executor behind() {
        return new ThreadPoolExecutor(0, 1, 10, TimeUnit.SECONDS, new LinkedBlockingQueue<>(), task -> {
            Thread thread = new Thread(task, "dashboard-lists");
            thread.setDaemon(true);
            return thread;
        });
    }

    /** Screens that ask the same at once wait for the one that builds, instead of all building it; others don't. */
    A of(Q question, Supplier<A> build) {
        while (true) {
            CompletableFuture<Void> built = new CompletableFuture<>();
            CompletableFuture<Void> before;
            long asOf;
            synchronized (this) {
                Optional<A> known = known(question, build);
                if (known.isPresent()) {
                    return known.get();
                }
                before = building.putIfAbsent(question, built);
                asOf = forgotten;
            }
            if (before == null) {
                return build(question, build, asOf, built);
            }
            before.join();
        }
    }

    /**
     * The answer, for who has something else to say meanwhile: empty where none is at hand and building the last one took longer than
     * that. Then nothing is built.
     */
    Optional<A> soon(Q question, Supplier<A> build, Duration most) {
        synchronized (this) {
            Long last = took.get(question);
            if (last != null && last > most.toNanos()) {
                return known(question, build);
            }
        }
        return Optional.of(of(question, build));
    }

    /** What is not too old to be shown; called with the lock. */
    private Optional<A> known(Q question, Supplier<A> build) {
        Kept<A> last = kept.get(question);
        if (last == null || last.changes() != changes.getAsLong()) {
            return Optional.empty();
        }
        long age = monotonicNanos.getAsLong() - last.builtNanos();
        if (age >= OLDEST.toNanos()) {
            return Optional.empty();
        }
        if (age >= FRESH.toNanos() && renewing.add(question)) {
            long asOf = forgotten;
            behind.execute(() -> renew(question, build, asOf));
        }
        return Optional.of(last.answer());
    }

    private A build(Q question, Supplier<A> build, long asOf, CompletableFuture<Void> built) {
        try {
            Kept<A> made = make(build);
            keep(question, made, asOf);
            return made.answer();
        } finally {
            synchronized (this) {
                building.remove(question);
            }
            // also where it failed: who waits then builds, and is told
            built.complete(null);
        }
    }

    private synchronized void keep(Q question, Kept<A> made, long asOf) {
        took.put(question, made.tookNanos());
        if (asOf == forgotten) {
            kept.put(question, made);
        }
    }

    private Kept<A> make(Supplier<A> build) {
        // read before the views: a change in between makes the answer look old, never new
        long seen = changes.getAsLong();
        long now = monotonicNanos.getAsLong();
        A answer = build.get();
        return new Kept<>(answer, seen, now, monotonicNanos.getAsLong() - now);
    }

    private void renew(Q question, Supplier<A> build, long asOf) {
        try {
            keep(question, make(build), asOf);
        } catch (RuntimeException e) {
            // who asks next, and gets no answer either, is told
            LOG.debug("an answer was not made anew: {}", e.toString());
        } finally {
            synchronized (this) {
                renewing.remove(question);
            }
        }
    }

    /** Forgets all, also what is in the making, so that who changed something sees it. */
    synchronized void forget() {
        forgotten++;
        kept.clear();
    }
}
