package dev.rimecast.app.faults;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.proof.Proof;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/** One thread that takes a site's log from its beginning to its end and is never stopped. */
public final class Oracle implements SiteMonitor.Output {
    final List<Finding> findings = new ArrayList<>();
    final List<Cycle> cycles = new ArrayList<>();
    /** State of every part, as it was saved last. */
    public final Map<String, byte[]> states = new TreeMap<>();

    private Oracle() {}

    public static Oracle of(String site, List<SiteRecord> log) {
        Oracle oracle = new Oracle();
        SiteMonitor monitor = SiteMonitor.fresh(site, Policy.standard());
        for (SiteRecord entry : log) {
            monitor.accept(entry, oracle);
            monitor.saveTouched((part, bytes) -> {
                if (bytes == null) {
                    oracle.states.remove(part);
                } else {
                    oracle.states.put(part, bytes);
                }
            });
        }
        return oracle;
    }

    @Override
    public void cycle(Cycle cycle) {
        cycles.add(cycle);
    }

    @Override
    public void finding(Finding finding) {
        findings.add(finding);
    }

    @Override
    public void proof(Proof proof) {
        // Nothing is repaired in these tests.
    }
}
