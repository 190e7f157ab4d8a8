package dev.rimecast.benchmarks;

import dev.rimecast.analytics.monitor.Nowhere;
import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.fleet.SimulatedSite;
import dev.rimecast.simulator.trial.TrialChannels;
import dev.rimecast.simulator.trial.TrialFleet;
import dev.rimecast.simulator.trial.TrialSettings;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * A simulated site whose machines a monitor has watched for three weeks, so that their expectations are fitted, and the log
 * of the days after that: the machines by turns as their readings came, in packs of {@value #PACK}, with the minutes between.
 */
final class RecordedSite {
    static final int PACK = 8;

    private static final int LEARN_DAYS = 21;
    private static final int DAYS = 28;
    private static final int SITES = 8;
    private static final long MINUTE_MILLIS = 60_000;

    private final String site;
    private final Map<String, byte[]> learned = new HashMap<>();
    private final List<SiteRecord> log = new ArrayList<>();
    private long tick = Long.MIN_VALUE;

    private RecordedSite(String site) {
        this.site = site;
    }

    /**
     * The site with the most machines of a fleet without faults, every channel read.
     *
     * @param samplingSeconds between two readings of a temperature
     */
    static RecordedSite simulate(int samplingSeconds) {
        FleetPlan plan = TrialFleet.plan(
                new TrialSettings(41, SITES, DAYS, Duration.ofSeconds(samplingSeconds), TrialChannels.FULL, Set.of()));
        SimulatedSite simulated = largest(plan);
        List<Machine> machines = plan.register().machinesAt(simulated.site().id());
        RecordedSite recorded = new RecordedSite(simulated.site().id());
        SiteMonitor monitor = SiteMonitor.fresh(simulated.site().id(), Policy.standard());
        machines.forEach(machine -> monitor.accept(new SiteRecord.Registered(plan.from(), machine), Nowhere.OUTPUT));
        String gateway = machines.get(0).gateway();
        Instant at = plan.from();
        while (at.isBefore(plan.to())) {
            at = at.plus(Duration.ofDays(1));
            List<SiteRecord> day =
                    recorded.records(gateway, simulated.advanceTo(at).readings());
            if (at.isAfter(plan.from().plus(Duration.ofDays(LEARN_DAYS)))) {
                recorded.log.addAll(day);
            } else {
                day.forEach(record -> monitor.accept(record, Nowhere.OUTPUT));
            }
        }
        monitor.saveTouched((key, bytes) -> {
            if (bytes != null) {
                recorded.learned.put(key, bytes);
            }
        });
        return recorded;
    }

    private static SimulatedSite largest(FleetPlan plan) {
        return new SimulatedFleet(plan)
                .sites().stream()
                        .max(Comparator.comparingInt(site ->
                                plan.register().machinesAt(site.site().id()).size()))
                        .orElseThrow();
    }

    private List<SiteRecord> records(String gateway, List<Reading> readings) {
        List<SiteRecord> records = new ArrayList<>();
        for (int from = 0; from + PACK <= readings.size(); from += PACK) {
            List<Reading> pack = readings.subList(from, from + PACK);
            long millis = pack.get(PACK - 1).timeMillis();
            while (tick + MINUTE_MILLIS <= millis) {
                tick = tick == Long.MIN_VALUE
                        ? Math.floorDiv(millis, MINUTE_MILLIS) * MINUTE_MILLIS
                        : tick + MINUTE_MILLIS;
                records.add(new SiteRecord.Tick(Instant.ofEpochMilli(tick)));
            }
            records.add(new SiteRecord.Pack(gateway, Optional.empty(), Instant.ofEpochMilli(millis), pack, 0));
        }
        return records;
    }

    /** A monitor as it was after the three weeks. */
    SiteMonitor learned() {
        return SiteMonitor.restore(site, learned);
    }

    /** What came after the three weeks. */
    List<SiteRecord> log() {
        return log;
    }
}
