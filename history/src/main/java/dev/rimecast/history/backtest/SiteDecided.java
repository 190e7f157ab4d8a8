package dev.rimecast.history.backtest;

import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import java.util.List;
import java.util.Map;

/**
 * What came of one site's log.
 *
 * @param machines as they were registered last
 * @param findings for each trial, in the order of the log
 */
record SiteDecided(
        String site,
        List<Machine> machines,
        Map<String, Decided.Span> watched,
        List<SiteRecord.Happened> events,
        List<List<Finding>> findings,
        long cycles) {
    SiteDecided {
        machines = List.copyOf(machines);
        watched = Map.copyOf(watched);
        events = List.copyOf(events);
        findings = List.copyOf(findings);
    }
}
