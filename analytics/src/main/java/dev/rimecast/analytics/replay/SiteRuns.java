package dev.rimecast.analytics.replay;

import dev.rimecast.analytics.monitor.MonitorCounts;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.WeatherRow;
import dev.rimecast.telemetry.file.log.RejectedLine;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;

/** Reads rows, hands each to its site, and collects what the sites decide. */
final class SiteRuns {
    private final Register register;
    private final List<Lane> lanes = new ArrayList<>();
    private final TreeMap<String, SiteRun> runs = new TreeMap<>();
    private final Map<String, Lane> laneOf = new TreeMap<>();
    private final Map<String, Unknown> unknown = new LinkedHashMap<>();

    /** By machine. */
    private final Map<String, Target> targets = new HashMap<>();

    /** Where a machine's rows go. */
    private record Target(Machine machine, SiteRun run, Lane lane) {
        boolean isBehind(Optional<String> gateway) {
            return gateway.isEmpty() || gateway.get().equals(machine.gateway());
        }
    }

    /** Rows of something that is in no register. */
    private static final class Unknown {
        private final Row first;
        private long rows;

        Unknown(Row first) {
            this.first = first;
        }
    }

    SiteRuns(Replay.Input input, int threads) {
        if (threads < 1) {
            throw new IllegalArgumentException("threads must be at least 1, was " + threads);
        }
        register = input.register();
        for (int i = 0; i < threads; i++) {
            lanes.add(new Lane("replay-" + i));
        }
        Map<String, List<SiteRecord.Happened>> events = events(input);
        Map<String, List<WeatherRow>> weather =
                input.weather().stream().collect(Collectors.groupingBy(WeatherRow::site));
        int next = 0;
        for (Site site :
                register.sites().stream().sorted(Comparator.comparing(Site::id)).toList()) {
            List<Machine> machines = register.machinesAt(site.id());
            SiteRun run = new SiteRun(
                    site,
                    machines,
                    events.getOrDefault(site.id(), List.of()),
                    new WeatherDays(weather.getOrDefault(site.id(), List.of())),
                    input.policy());
            Lane lane = lanes.get(next++ % threads);
            runs.put(site.id(), run);
            laneOf.put(site.id(), lane);
            machines.forEach(machine -> targets.put(machine.id(), new Target(machine, run, lane)));
        }
    }

    private static Map<String, List<SiteRecord.Happened>> events(Replay.Input input) {
        Map<String, List<SiteRecord.Happened>> bySite = new TreeMap<>();
        input.events().stream()
                .sorted(Comparator.comparing(EventRow::at))
                .forEach(event -> event.siteIn(input.register())
                        .ifPresent(site -> bySite.computeIfAbsent(site, s -> new ArrayList<>())
                                .add(event.toRecord())));
        return bySite;
    }

    Replay.Decided run(RowSource rows) throws IOException {
        try {
            for (Optional<Row> row = rows.next(); row.isPresent(); row = rows.next()) {
                dispatch(row.get());
            }
            lanes.forEach(Lane::finish);
        } finally {
            lanes.forEach(Lane::stop);
        }
        long end = runs.values().stream().mapToLong(SiteRun::newestMillis).max().orElse(Long.MIN_VALUE);
        runs.values().forEach(run -> run.end(end));
        return collect(rows);
    }

    /** A row of a log is of one machine; a pack of a capture may hold several, all behind its gateway. */
    private void dispatch(Row row) {
        if (row.online().isPresent() || row.readings().isEmpty()) {
            row.gateway()
                    .flatMap(register::siteOfGateway)
                    .ifPresent(site -> hand(site, row.gateway().orElseThrow(), row));
            return;
        }
        if (isOfOneMachine(row.readings())) {
            dispatchWhole(row);
        } else {
            dispatchByMachine(row);
        }
    }

    private static boolean isOfOneMachine(List<Reading> readings) {
        String machine = readings.get(0).machine();
        for (int i = 1; i < readings.size(); i++) {
            if (!readings.get(i).machine().equals(machine)) {
                return false;
            }
        }
        return true;
    }

    private void dispatchWhole(Row row) {
        String id = row.readings().get(0).machine();
        Target target = targets.get(id);
        if (target != null && target.isBehind(row.gateway())) {
            target.lane().add(target.run(), target.machine().gateway(), row);
        } else {
            unknown.computeIfAbsent(id, m -> new Unknown(row)).rows++;
        }
    }

    private void dispatchByMachine(Row row) {
        Map<String, List<Reading>> byMachine = new LinkedHashMap<>();
        for (Reading reading : row.readings()) {
            byMachine
                    .computeIfAbsent(
                            reading.machine(),
                            m -> new ArrayList<>(row.readings().size()))
                    .add(reading);
        }
        List<Reading> known = new ArrayList<>(row.readings().size());
        Optional<Machine> one = Optional.empty();
        for (Map.Entry<String, List<Reading>> entry : byMachine.entrySet()) {
            Optional<Machine> machine = register.machine(entry.getKey())
                    .filter(m -> row.gateway().isEmpty() || row.gateway().get().equals(m.gateway()));
            if (machine.isPresent()) {
                one = machine;
                known.addAll(entry.getValue());
            } else {
                unknown.computeIfAbsent(entry.getKey(), m -> new Unknown(row)).rows++;
            }
        }
        if (one.isPresent()) {
            Row good = known.size() == row.readings().size()
                    ? row
                    : new Row(row.file(), row.line(), row.timeMillis(), row.gateway(), known, row.online());
            hand(one.get().site(), one.get().gateway(), good);
        }
    }

    private void hand(String site, String gateway, Row row) {
        SiteRun run = runs.get(site);
        Lane lane = laneOf.get(site);
        if (run != null && lane != null) {
            lane.add(run, gateway, row);
        }
    }

    private Replay.Decided collect(RowSource rows) {
        List<Cycle> cycles = new ArrayList<>();
        List<Finding> findings = new ArrayList<>();
        List<Proof> proofs = new ArrayList<>();
        MonitorCounts counts = new MonitorCounts(0, 0, 0, 0, 0);
        long readings = 0;
        for (SiteRun run : runs.values()) {
            cycles.addAll(run.cycles());
            findings.addAll(run.findings());
            proofs.addAll(run.proofs());
            counts = counts.plus(run.counts());
            readings += run.readings();
        }
        List<RejectedLine> rejects = new ArrayList<>(rows.rejects());
        unknown.forEach((machine, seen) -> rejects.add(new RejectedLine(
                seen.first.file(),
                seen.first.line(),
                "machine",
                "machine " + machine + " is not in the register, or not behind the gateway that sent it: " + seen.rows
                        + " rows of it were not used, this is the first")));
        return new Replay.Decided(readings, counts, cycles, findings, proofs, rejects);
    }
}
