package dev.rimecast.analytics.replay;

import dev.rimecast.analytics.monitor.MonitorCounts;
import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * One site: makes its log of rows and events, and keeps what its monitor decides. Cycles are kept without their residuals,
 * which no file shows.
 */
final class SiteRun implements SiteMonitor.Output {
    private static final long MINUTE_MILLIS = 60_000;
    /** Rows of several machines may be so far apart in one recording before they are out of order. */
    private static final long DISORDER_MILLIS = 10 * MINUTE_MILLIS;

    /**
     * Rows of one machine on end that show a recording of one machine after the other. A gateway that sends what it has stored sends
     * old rows, too, but of all its machines, and beside the rows of the moment.
     */
    private static final int FEWEST_ON_END = 20;

    private static final long NONE = Long.MIN_VALUE;

    private final List<Machine> machines;
    private final Site site;
    private final List<SiteRecord.Happened> events;
    private final WeatherDays weather;
    private final SiteMonitor monitor;
    private final Map<String, Newest> newestOf = new HashMap<>();
    private final List<Cycle> cycles = new ArrayList<>();
    private final List<Finding> findings = new ArrayList<>();
    private final List<Proof> proofs = new ArrayList<>();

    /** Time of a machine's newest reading. */
    private static final class Newest {
        private long millis = NONE;
    }

    private int nextEvent;
    private long newest = NONE;
    private long tick = NONE;
    private long readings;
    private String machineBefore = "";
    private int rowsOnEnd;

    /** @param events of the site, in order of time */
    SiteRun(Site site, List<Machine> machines, List<SiteRecord.Happened> events, WeatherDays weather, Policy policy) {
        this.weather = weather;
        this.site = site;
        this.machines = machines;
        this.events = events;
        this.monitor = SiteMonitor.fresh(site.id(), policy);
    }

    /**
     * Takes the next row of this site.
     *
     * @throws OneMachineAfterTheOther if it shows that the recording is not in order of time
     */
    void row(String gateway, Row row) {
        long millis = row.timeMillis();
        if (tick == NONE) {
            begin(millis);
        }
        checkOrder(row.readings());
        timeTo(millis);
        Instant at = Instant.ofEpochMilli(millis);
        if (row.online().isPresent()) {
            monitor.accept(new SiteRecord.Presence(at, gateway, row.online().get()), this);
        } else if (!row.readings().isEmpty()) {
            readings += row.readings().size();
            monitor.accept(new SiteRecord.Pack(gateway, Optional.empty(), at, row.readings(), 0), this);
        }
        newest = Math.max(newest, millis);
    }

    private void begin(long millis) {
        Instant at = Instant.ofEpochMilli(millis);
        monitor.accept(new SiteRecord.SiteChanged(at, site), this);
        machines.forEach(machine -> monitor.accept(new SiteRecord.Registered(at, machine), this));
        tick = Math.floorDiv(millis, MINUTE_MILLIS) * MINUTE_MILLIS;
    }

    /** Old is a row that is old for its site but not for its machine, after many of another one. */
    private void checkOrder(List<Reading> ofRow) {
        boolean isAfterMany = rowsOnEnd >= FEWEST_ON_END;
        if (!ofRow.isEmpty()) {
            String first = ofRow.get(0).machine();
            rowsOnEnd = first.equals(machineBefore) ? rowsOnEnd + 1 : 1;
            machineBefore = first;
        }
        String machine = "";
        for (Reading reading : ofRow) {
            if (reading.machine().equals(machine)) {
                continue;
            }
            machine = reading.machine();
            long time = reading.timeMillis();
            Newest ofMachine = newestOf.computeIfAbsent(machine, m -> new Newest());
            boolean isOld = newest != NONE && time < newest - DISORDER_MILLIS && time >= ofMachine.millis;
            if (isOld && isAfterMany) {
                throw new OneMachineAfterTheOther(reading.machine());
            }
            ofMachine.millis = Math.max(ofMachine.millis, time);
        }
    }

    private void timeTo(long millis) {
        while (tick + MINUTE_MILLIS <= millis) {
            eventsTo(tick + MINUTE_MILLIS);
            tick += MINUTE_MILLIS;
            weather.at(tick).ifPresent(expected -> monitor.accept(expected, this));
            monitor.accept(new SiteRecord.Tick(Instant.ofEpochMilli(tick)), this);
        }
        eventsTo(millis);
    }

    private void eventsTo(long millis) {
        while (nextEvent < events.size() && events.get(nextEvent).at().toEpochMilli() <= millis) {
            monitor.accept(events.get(nextEvent++), this);
        }
    }

    /** The recording has ended, for every site at the same time: silence at its end is silence, too. */
    void end(long millis) {
        if (tick != NONE) {
            timeTo(Math.max(millis, newest));
            eventsTo(Long.MAX_VALUE);
        }
    }

    long newestMillis() {
        return newest;
    }

    long readings() {
        return readings;
    }

    MonitorCounts counts() {
        return monitor.counts();
    }

    List<Cycle> cycles() {
        return cycles;
    }

    List<Finding> findings() {
        return findings;
    }

    List<Proof> proofs() {
        return proofs;
    }

    @Override
    public void cycle(Cycle cycle) {
        cycles.add(new Cycle(
                cycle.machine(),
                cycle.freezeStart(),
                cycle.end(),
                cycle.pullDownSeconds(),
                cycle.freezeSeconds(),
                cycle.harvestSeconds(),
                cycle.condensingPeakCelsius(),
                cycle.condensingMeanCelsius(),
                cycle.splitKelvin(),
                cycle.evaporatorEndCelsius(),
                cycle.ambientCelsius(),
                cycle.ambientSource(),
                cycle.waterCelsius(),
                cycle.waterSource(),
                cycle.drainRuns(),
                cycle.drainLevelMaxSeconds(),
                cycle.drainRunMaxSeconds(),
                cycle.complete(),
                List.of(),
                cycle.detectorVersion(),
                cycle.policyVersion(),
                Optional.empty()));
    }

    @Override
    public void finding(Finding finding) {
        findings.add(finding);
    }

    @Override
    public void proof(Proof proof) {
        proofs.add(proof);
    }
}
