package dev.rimecast.benchmarks.load;

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
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;

/**
 * A simulated site without faults whose machines a monitor has watched for three weeks, so that states have the size and
 * expectations the fit that they have in the field, and the packs of the hours after that. Machines of several simulated
 * sites stand on it, behind one gateway, so that a large fleet needs fewer connections than one process may open.
 *
 * @param from when the packs begin
 * @param machines as the register has them
 * @param states the monitor's parts at {@code from}
 * @param packs of {@value #PACK} readings of one machine each, in order of the time when they are whole
 */
record LearnedSite(Instant from, List<Machine> machines, Map<String, byte[]> states, List<Pack> packs) {
    static final int PACK = 8;

    private static final int LEARN_DAYS = 21;
    private static final long MINUTE_MILLIS = 60_000;

    /** @param atMillis when the last of its readings was taken */
    record Pack(long atMillis, List<Reading> readings) {}

    /**
     * @param samplingSeconds between two readings of a temperature
     * @param simulatedSites whose machines stand on it, three to five each
     * @param hours of packs
     */
    static LearnedSite simulate(int samplingSeconds, int simulatedSites, int hours) {
        FleetPlan plan = TrialFleet.plan(new TrialSettings(
                41,
                simulatedSites,
                LEARN_DAYS + hours / 24 + 5,
                Duration.ofSeconds(samplingSeconds),
                TrialChannels.FULL,
                Set.of()));
        Map<String, String> names = new HashMap<>();
        List<Machine> machines = new ArrayList<>();
        for (Machine machine : plan.register().machines()) {
            String name = Clone.FIRST + "-m" + (char) ('a' + machines.size());
            names.put(machine.id(), name);
            machines.add(Machine.basic(name, Clone.FIRST, Clone.gateway(0)));
        }
        SiteMonitor monitor = SiteMonitor.fresh(Clone.FIRST, Policy.standard());
        machines.forEach(machine -> monitor.accept(new SiteRecord.Registered(plan.from(), machine), Nowhere.OUTPUT));
        List<SimulatedSite> sites = new SimulatedFleet(plan).sites();
        Instant learned = plan.from().plus(Duration.ofDays(LEARN_DAYS));
        Map<String, List<Reading>> open = new TreeMap<>();
        long tick = plan.from().toEpochMilli();
        for (Instant at = plan.from(); at.isBefore(learned); ) {
            at = at.plus(Duration.ofHours(6));
            for (Pack pack : packs(advance(sites, at, names), open)) {
                while (tick + MINUTE_MILLIS <= pack.atMillis()) {
                    tick += MINUTE_MILLIS;
                    monitor.accept(new SiteRecord.Tick(Instant.ofEpochMilli(tick)), Nowhere.OUTPUT);
                }
                monitor.accept(record(pack), Nowhere.OUTPUT);
            }
        }
        Map<String, byte[]> states = new HashMap<>();
        monitor.saveTouched((key, bytes) -> {
            if (bytes != null) {
                states.put(key, bytes);
            }
        });
        List<Pack> packs = packs(advance(sites, learned.plus(Duration.ofHours(hours)), names), open);
        return new LearnedSite(learned, machines, states, packs);
    }

    /**
     * The same hours as a gateway tells them that sends every channel of each machine again and again, whether it has changed or not: the
     * newest value of the first {@value #PACK} channels, or the first one where none has been told yet, and the times that ended since the last
     * row. Machines have their turns one after the other.
     *
     * @param seconds between two rows of a machine
     */
    LearnedSite inFullRows(int seconds) {
        Map<String, EnumMap<Channel, Reading>> newest = new TreeMap<>();
        Map<String, List<Reading>> ended = new TreeMap<>();
        machines.forEach(machine -> newest.put(machine.id(), new EnumMap<>(Channel.class)));
        for (Pack pack : packs) {
            for (Reading reading : pack.readings()) {
                if (reading.channel().kind() != Channel.Kind.DURATION) {
                    newest.getOrDefault(reading.machine(), new EnumMap<>(Channel.class))
                            .putIfAbsent(reading.channel(), reading);
                }
            }
        }
        List<String> turns = List.copyOf(newest.keySet());
        long end = packs.get(packs.size() - 1).atMillis();
        List<Pack> rows = new ArrayList<>();
        int next = 0;
        for (long turn = 0; ; turn++) {
            long at = from.toEpochMilli() + turn * seconds * 1000 / turns.size();
            if (at > end) {
                return new LearnedSite(from, machines, states, rows);
            }
            for (; next < packs.size() && packs.get(next).atMillis() <= at; next++) {
                for (Reading reading : packs.get(next).readings()) {
                    if (reading.channel().kind() == Channel.Kind.DURATION) {
                        ended.computeIfAbsent(reading.machine(), machine -> new ArrayList<>())
                                .add(reading);
                    } else {
                        newest.getOrDefault(reading.machine(), new EnumMap<>(Channel.class))
                                .put(reading.channel(), reading);
                    }
                }
            }
            String machine = turns.get((int) (turn % turns.size()));
            List<Reading> row = new ArrayList<>();
            newest.getOrDefault(machine, new EnumMap<>(Channel.class)).values().stream()
                    .limit(PACK)
                    .forEach(each -> row.add(new Reading(machine, each.channel(), at, each.value(), each.text())));
            row.addAll(Optional.ofNullable(ended.remove(machine)).orElse(List.of()));
            if (row.size() >= PACK) {
                rows.add(new Pack(at, row));
            }
        }
    }

    /** The packs as records of the site's log, with the minutes between. */
    List<SiteRecord> log() {
        List<SiteRecord> log = new ArrayList<>();
        long tick = from.toEpochMilli();
        for (Pack pack : packs) {
            while (tick + MINUTE_MILLIS <= pack.atMillis()) {
                tick += MINUTE_MILLIS;
                log.add(new SiteRecord.Tick(Instant.ofEpochMilli(tick)));
            }
            log.add(record(pack));
        }
        return log;
    }

    static SiteRecord.Pack record(Pack pack) {
        return new SiteRecord.Pack(
                Clone.gateway(0), Optional.empty(), Instant.ofEpochMilli(pack.atMillis()), pack.readings(), 0);
    }

    private static List<Reading> advance(List<SimulatedSite> sites, Instant to, Map<String, String> names) {
        List<Reading> all = new ArrayList<>();
        for (SimulatedSite site : sites) {
            for (Reading reading : site.advanceTo(to).readings()) {
                String name = names.get(reading.machine());
                all.add(new Reading(
                        name == null ? reading.machine() : name,
                        reading.channel(),
                        reading.timeMillis(),
                        reading.value(),
                        reading.text()));
            }
        }
        all.sort(Comparator.comparingLong(Reading::timeMillis));
        return all;
    }

    private static List<Pack> packs(List<Reading> readings, Map<String, List<Reading>> open) {
        List<Pack> packs = new ArrayList<>();
        for (Reading reading : readings) {
            List<Reading> pack = open.computeIfAbsent(reading.machine(), machine -> new ArrayList<>());
            pack.add(reading);
            if (pack.size() == PACK) {
                packs.add(new Pack(reading.timeMillis(), List.copyOf(pack)));
                pack.clear();
            }
        }
        return packs;
    }
}
