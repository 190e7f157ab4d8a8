package dev.rimecast.history.trial;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.backtest.Standing;
import dev.rimecast.history.compare.Raised;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.SiteRecord.PolicyActivated;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * One site twice: by the policies that are in force, and, from the trial's beginning on, by the candidate. At the beginning the
 * candidate takes effect on what was learned until then, as it would if it came into force there.
 */
final class SiteDouble {
    /** One of the two, with what it has raised. */
    static final class Side implements SiteMonitor.Output {
        final Map<String, byte[]> states = new TreeMap<>();
        final Map<UUID, Raised> raised = new LinkedHashMap<>();
        private final SiteMonitor monitor;
        /** Before the trial's beginning only what stands is of interest. */
        private boolean keepsOver;

        Side(SiteMonitor monitor) {
            this.monitor = monitor;
        }

        Side(String site, Map<String, byte[]> states, Map<UUID, Raised> raised) {
            this.monitor = SiteMonitor.restore(site, states);
            this.states.putAll(states);
            this.raised.putAll(raised);
        }

        Side keepingOver() {
            keepsOver = true;
            return this;
        }

        void save() {
            monitor.saveTouched((key, bytes) -> {
                if (bytes == null) {
                    states.remove(key);
                } else {
                    states.put(key, bytes);
                }
            });
        }

        @Override
        public void cycle(Cycle cycle) {
            // The same for both but for what was expected, which shows in what is raised.
        }

        @Override
        public void finding(Finding finding) {
            Raised.take(finding, raised);
            if (!keepsOver && finding.step() == Finding.Step.CLEARED) {
                raised.remove(finding.id());
            }
        }

        @Override
        public void proof(Proof proof) {
            // Of work that was done, whatever the thresholds.
        }
    }

    final String site;
    final Side current;

    @Nullable
    Side candidate;

    /** A site of which nothing is known yet. */
    SiteDouble(String site) {
        this(site, new Side(SiteMonitor.fresh(site, Policy.standard())), null);
    }

    /** As it was at a snapshot. */
    static SiteDouble of(Standing.Site known) {
        Map<UUID, Raised> raised = new LinkedHashMap<>();
        known.standing().forEach(finding -> Raised.take(finding, raised));
        return new SiteDouble(known.site(), new Side(known.site(), known.states(), raised), null);
    }

    SiteDouble(String site, Side current, @Nullable Side candidate) {
        this.site = site;
        this.current = current;
        this.candidate = candidate;
    }

    void accept(SiteRecord record) {
        if (record instanceof PolicyActivated activated) {
            // Live a text that is no policy changes nothing.
            if (isPolicy(activated)) {
                current.monitor.accept(record, current);
            }
            return;
        }
        current.monitor.accept(record, current);
        if (candidate != null) {
            candidate.monitor.accept(record, candidate);
        }
    }

    /** The candidate takes effect. */
    void begin(Policy policy) {
        current.save();
        Side other = new Side(site, current.states, current.raised);
        current.keepsOver = true;
        other.keepsOver = true;
        other.monitor.accept(new PolicyActivated(Instant.EPOCH, policy.version(), policy.yaml()), other);
        candidate = other;
    }

    private static boolean isPolicy(PolicyActivated activated) {
        try {
            Policy.parse(activated.yaml());
            return true;
        } catch (YamlProblems none) {
            return false;
        }
    }
}
