package dev.rimecast.history.backtest;

import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * What came of all logs.
 *
 * @param machines of the register as it was last
 * @param watched for each machine, from when to when
 * @param events what people reported meanwhile
 * @param findings for each trial, by site
 */
public record Decided(
        List<Machine> machines,
        Map<String, Span> watched,
        List<EventRow> events,
        List<List<Finding>> findings,
        long records,
        long cycles) {

    /** A time. */
    public record Span(Instant from, Instant to) {
        /** Its length in years of 365.2425 days. */
        public double years() {
            return Duration.between(from, to).toMillis() / (365.2425 * 86_400_000);
        }
    }

    public Decided {
        machines = List.copyOf(machines);
        watched = Map.copyOf(watched);
        events = List.copyOf(events);
        findings = List.copyOf(findings);
    }

    static Decided of(List<SiteDecided> unordered, long records) {
        List<SiteDecided> sites = unordered.stream()
                .sorted(Comparator.comparing(SiteDecided::site))
                .toList();
        List<List<Finding>> findings = new ArrayList<>();
        List<Machine> machines = new ArrayList<>();
        Map<String, Span> watched = new HashMap<>();
        List<EventRow> events = new ArrayList<>();
        long cycles = 0;
        for (SiteDecided site : sites) {
            for (int trial = 0; trial < site.findings().size(); trial++) {
                if (findings.size() <= trial) {
                    findings.add(new ArrayList<>());
                }
                findings.get(trial).addAll(site.findings().get(trial));
            }
            machines.addAll(site.machines());
            site.watched()
                    .forEach((machine, watch) -> watched.merge(
                            machine,
                            watch,
                            (a, b) -> new Span(
                                    a.from().isBefore(b.from()) ? a.from() : b.from(),
                                    a.to().isAfter(b.to()) ? a.to() : b.to())));
            site.events()
                    .forEach(event -> events.add(new EventRow(
                            event.at(),
                            event.machine(),
                            Optional.of(site.site()),
                            event.kind(),
                            event.detail(),
                            event.by(),
                            event.job())));
            cycles += site.cycles();
        }
        return new Decided(machines, watched, events, findings, records, cycles);
    }
}
