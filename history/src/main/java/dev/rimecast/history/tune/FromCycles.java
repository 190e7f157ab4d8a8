package dev.rimecast.history.tune;

import dev.rimecast.analytics.monitor.OfCycles;
import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.PolicyForm;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.proof.Proof;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;

/**
 * Variants of a policy decided from cycles instead of readings, in seconds, where their numbers act on nothing else. The policy as
 * it is has been decided from readings, which has made the tapes.
 */
public final class FromCycles {
    /** What this covers, for whoever reads a report. */
    public static final String IN_WORDS =
            "The policy as it is was decided from readings, the others from the cycles that these gave. That is"
                    + " exact for expectation (but rest_minutes), change, kind, proof, forecast and features, which act on nothing else."
                    + " Reminders of care, the causes of what no cycle shows, and when a bin sensor is not believed, stay those of the policy as it is.";

    private FromCycles() {}

    /** Whether numbers act on cycles only; paths as in {@link Variant}. */
    public static boolean areOfCycles(Collection<String> paths) {
        PolicyForm form = PolicyForm.standard();
        return paths.stream()
                .allMatch(path -> form.entry(path)
                        .filter(entry -> OfCycles.isOfCycles(entry.threshold()))
                        .isPresent());
    }

    /**
     * Decides every variant but the first, which is the policy as it is.
     *
     * @param base the policy as it is, from readings
     * @return the same with the findings of each variant
     */
    public static Decided decide(Decided base, List<Variant> variants, Tapes tapes, int threads) {
        List<List<Finding>> findings = new ArrayList<>();
        findings.add(base.findings().get(0));
        ExecutorService workers = Executors.newFixedThreadPool(threads);
        try {
            List<List<Future<List<Finding>>>> running = new ArrayList<>();
            for (Variant variant : variants.subList(1, variants.size())) {
                running.add(tapes.sites().stream()
                        .map(site -> workers.submit(() -> {
                            Kept kept = new Kept();
                            tapes.play(site, variant.policy(), kept);
                            return kept.findings;
                        }))
                        .toList());
            }
            for (List<Future<List<Finding>>> ofVariant : running) {
                List<Finding> all = new ArrayList<>();
                for (Future<List<Finding>> ofSite : ofVariant) {
                    all.addAll(ofSite.get());
                }
                findings.add(all);
            }
        } catch (ExecutionException e) {
            throw e.getCause() instanceof RuntimeException failure ? failure : new IllegalStateException(e.getCause());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted", e);
        } finally {
            workers.shutdownNow();
        }
        return new Decided(base.machines(), base.watched(), base.events(), findings, base.records(), base.cycles());
    }

    private static final class Kept implements SiteMonitor.Output {
        private final List<Finding> findings = new ArrayList<>();

        @Override
        public void cycle(Cycle cycle) {
            // They are what is read here.
        }

        @Override
        public void finding(Finding finding) {
            findings.add(finding);
        }

        @Override
        public void proof(Proof proof) {
            // Of work that was done, whatever the thresholds.
        }
    }
}
