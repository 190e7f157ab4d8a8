package dev.rimecast.analytics.stream;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.CycleJson;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.proof.Proof;
import java.util.ArrayList;
import java.util.List;

/** What one monitor decides on a log without Kafka, stops or restores, as it would be written: the reference. */
final class PlainRun implements SiteMonitor.Output {
    final List<Cycle> cycles = new ArrayList<>();
    final List<Finding> findings = new ArrayList<>();

    static PlainRun of(String site, List<SiteRecord> log, MonitorStep step) {
        PlainRun run = new PlainRun();
        SiteMonitor monitor = SiteMonitor.fresh(site, Policy.standard());
        log.forEach(entry -> step.apply(monitor, entry, run));
        return run;
    }

    @Override
    public void cycle(Cycle cycle) {
        cycles.add(CycleJson.decode(CycleJson.encode(cycle)));
    }

    @Override
    public void finding(Finding finding) {
        findings.add(FindingJson.decode(FindingJson.encode(finding)));
    }

    @Override
    public void proof(Proof proof) {}
}
