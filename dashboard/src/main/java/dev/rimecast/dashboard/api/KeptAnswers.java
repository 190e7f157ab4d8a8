package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.http.Payload;
import java.time.Duration;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.Executor;
import java.util.function.LongSupplier;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Many screens ask for the same list, so one answer serves all that see the same sites, until an alert changes. What is
 * older than a second is made anew behind the back of who asks; what is older than five nobody gets, but waits for a new
 * one.
 */
final class KeptAnswers {
    static final Duration FRESH = Duration.ofSeconds(1);
    static final Duration OLDEST = Duration.ofSeconds(5);

    private static final Logger LOG = LoggerFactory.getLogger(KeptAnswers.class);
    private static final int MOST_KEPT = 50;

    private record Kept(Payload payload, long changes, long builtNanos) {}

    private final LongSupplier changes;
    private final LongSupplier monotonicNanos;
    private final Executor behind;
    private final Set<SiteScope> renewing = new HashSet<>();
    private final Map<SiteScope, Kept> kept = new LinkedHashMap<>(16, 0.75f, true) {
        private static final long serialVersionUID = 1L;

        @Override
        protected boolean removeEldestEntry(Map.Entry<SiteScope, Kept> eldest) {
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

    /** Screens that ask at once wait for the one that builds, instead of all building the same. */
    synchronized Payload of(SiteScope sites, Supplier<Payload> build) {
        Kept last = kept.get(sites);
        if (last != null && last.changes() == changes.getAsLong()) {
            long age = monotonicNanos.getAsLong() - last.builtNanos();
            if (age < FRESH.toNanos()) {
                return last.payload();
            }
            if (age < OLDEST.toNanos()) {
                if (renewing.add(sites)) {
                    long asOf = forgotten;
                    behind.execute(() -> renew(sites, build, asOf));
                }
                return last.payload();
            }
        }
        Kept made = make(build);
        kept.put(sites, made);
        return made.payload();
    }

    private Kept make(Supplier<Payload> build) {
        // read before the views: a change in between makes the answer look old, never new
        long seen = changes.getAsLong();
        long now = monotonicNanos.getAsLong();
        return new Kept(build.get().packedNow(), seen, now);
    }

    private void renew(SiteScope sites, Supplier<Payload> build, long asOf) {
        try {
            Kept made = make(build);
            synchronized (this) {
                if (asOf == forgotten) {
                    kept.put(sites, made);
                }
            }
        } catch (RuntimeException e) {
            // who asks next, and gets no answer either, is told
            LOG.debug("an answer was not made anew: {}", e.toString());
        } finally {
            synchronized (this) {
                renewing.remove(sites);
            }
        }
    }

    /** Forgets all, also what is in the making, so that who changed something sees it. */
    synchronized void forget() {
        forgotten++;
        kept.clear();
    }
}
