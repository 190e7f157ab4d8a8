package dev.rimecast.analytics.stream;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.SiteRecord;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * The product's step, and a finding for each pack and tick whose revision is what the monitor has counted so far. A
 * record lost or taken twice, or a state that is behind or ahead, shows in every revision from there on.
 */
final class CountingStep implements MonitorStep {
    static final CountingStep AT_ONCE = new CountingStep();

    private CountingStep() {}

    @Override
    public void apply(SiteMonitor monitor, SiteRecord entry, SiteMonitor.Output out) {
        monitor.accept(entry, out);
        if (entry instanceof SiteRecord.Pack pack) {
            out.finding(finding(monitor, pack.receivedAt()));
        } else if (entry instanceof SiteRecord.Tick tick) {
            out.finding(finding(monitor, tick.at()));
        }
    }

    static Finding finding(SiteMonitor monitor, Instant at) {
        return new Finding(
                Finding.idOf("site:" + monitor.site(), Condition.GATEWAY_SILENT, at),
                1 + (int) monitor.counts().stored(),
                Finding.Step.RAISED,
                monitor.site(),
                Optional.empty(),
                Optional.empty(),
                Condition.GATEWAY_SILENT,
                Stage.EARLY,
                Priority.LOW,
                at,
                at,
                List.of(),
                Optional.empty(),
                Optional.empty(),
                "counted " + monitor.counts(),
                "test",
                "test");
    }
}
