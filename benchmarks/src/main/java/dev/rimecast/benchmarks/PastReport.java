package dev.rimecast.benchmarks;

import dev.rimecast.analytics.monitor.OfCycles;
import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.LogRun;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.View;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.history.store.StoredFile.Partition;
import dev.rimecast.history.table.Taken;
import dev.rimecast.history.tune.Tapes;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.fleet.SimulatedSite;
import dev.rimecast.simulator.fleet.SiteBatch;
import dev.rimecast.simulator.trial.TrialChannels;
import dev.rimecast.simulator.trial.TrialFleet;
import dev.rimecast.simulator.trial.TrialSettings;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.CycleJson;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/**
 * How fast the past is decided again, in one run: a history of rows at 30 s through the monitors with one thread, DuckDB's aggregates of
 * each cycle of the same rows with one thread, and another policy from the cycles. Seconds of the wall and of the processor time of
 * all threads: the second can be compared on a machine that others use, too. Memory is the process's highest.
 *
 * <p>Arguments: days, and a second number of days for memory over another period, e.g. {@code 30 90}. Half of the machines have a fault
 * that stands to the end; {@code sound:90} are 90 days of a fleet in which nothing is wrong: how long other cycles take depends on that.
 * {@code -Drimecast.past.rounds=30} decides the same cycles so many times.
 */
public final class PastReport {
    private static final int SITES = 1;
    private static final int BATCH = 200_000;
    /** How often other cycles are decided: the JVM compiles for the first seconds of that, and a fleet takes minutes. */
    private static final int ROUNDS = Integer.getInteger("rimecast.past.rounds", 3);

    private static final double YEAR_DAYS = 365.2425;
    private static final String LOG = "past";
    private static final String SOUND = "sound:";
    /** Of each cycle what a monitor takes from it: length, hottest, coldest, warmest room. */
    private static final String AGGREGATES =
            "select count(*), sum(n), max(hot), min(cold) from (select c.machine, c.freeze_start, count(*) as n,"
                    + " max(r.condenser_temperature) as hot, avg(r.condenser_temperature) as mean,"
                    + " min(r.evaporator_temperature) as cold, avg(r.ambient_temperature) as air,"
                    + " arg_max(r.condenser_temperature, r.time) as last from readings r asof join"
                    + " (select machine, freeze_start, ended_at from cycles) c"
                    + " on r.machine = c.machine and r.time >= c.freeze_start where r.time <= c.ended_at group by all)";

    private final Path root;

    private PastReport(Path root) {
        this.root = root;
    }

    /** Measures the past of so many days. */
    public static void main(String[] days) throws IOException {
        for (String each : days.length == 0 ? new String[] {"30"} : days) {
            Path root = Files.createTempDirectory("rimecast-past-");
            boolean isSound = each.startsWith(SOUND);
            try {
                new PastReport(root).run(Integer.parseInt(isSound ? each.substring(SOUND.length()) : each), isSound);
            } finally {
                delete(root);
            }
        }
    }

    private void run(int days, boolean isSound) throws IOException {
        HistoryDirectory directory = new HistoryDirectory(root.resolve("history"));
        int machines = write(directory, days, isSound ? Set.of() : TrialSettings.allCauses());
        double years = machines * days / YEAR_DAYS;
        try (History past = History.open(directory.root(), 256, false)) {
            long[] rows = {0};
            past.duck().ask("select count(*) from readings", row -> rows[0] = row.getLong(1));
            System.out.printf(
                    Locale.ROOT,
                    "%d days of %d machines%s: %.2f machine-years, %,d rows%n",
                    days,
                    machines,
                    isSound ? ", all sound" : "",
                    years,
                    rows[0]);
            Files.createDirectories(root.resolve("tapes"));
            try (Tapes tapes = new Tapes(root.resolve("tapes"))) {
                Policy policy = Policy.standard();
                LogRun.Trial plain = new LogRun.Trial("standard", Optional.of(policy));
                LogRun.Trial taped = new LogRun.Trial("standard", Optional.of(policy), Optional.of(tapes::of));
                // The first warms up.
                double first = measure(
                        "readings, one thread", years, () -> LogRun.run(past, List.of(plain), 1, (done, all) -> {}));
                Decided[] base = {null};
                double readings = measure(
                        "the same again, cycles noted",
                        years,
                        () -> base[0] = LogRun.run(past, List.of(taped), 1, (done, all) -> {}));
                tapes.end();
                System.out.printf(
                        Locale.ROOT, "  noted: %,d bytes a machine-year%n", Math.round(tapes.bytes() / years));
                try (Duck duck = past.another(256, 1, View.READINGS, View.CYCLES)) {
                    double sql = measure(
                            "DuckDB, aggregates of each cycle, one thread",
                            years,
                            () -> duck.ask(
                                    AGGREGATES,
                                    row -> System.out.printf(
                                            Locale.ROOT,
                                            "  %,d cycles, %,d rows in them%n",
                                            row.getLong(1),
                                            row.getLong(2))));
                    System.out.printf(
                            Locale.ROOT,
                            "  a back-test takes %.1f times DuckDB's processor time%n",
                            Math.min(first, readings) / sql);
                }
                Nothing counted = new Nothing();
                for (int round = 0; round < ROUNDS; round++) {
                    counted.open.clear();
                    double cycles = measure(
                            "from cycles, one thread",
                            years,
                            () -> tapes.sites().forEach(site -> tapes.play(site, policy, counted)));
                    System.out.printf(
                            Locale.ROOT,
                            "  1,000 machine-years: %.0f s of processor time, %.0f s on 2 cores%n",
                            1000 * cycles,
                            500 * cycles);
                }
                System.out.printf(
                        Locale.ROOT,
                        "  %,d cycles a machine-year, of which %.0f %% with an alert of cycles that stood%n",
                        Math.round(counted.cycles / years / ROUNDS),
                        100.0 * counted.standing / counted.cycles);
            }
        }
        System.out.printf(Locale.ROOT, "  memory of the process, highest so far: %s%n", highest());
    }

    private static void delete(Path root) throws IOException {
        try (Stream<Path> all = Files.walk(root)) {
            for (Path each : all.sorted(Comparator.reverseOrder()).toList()) {
                Files.delete(each);
            }
        }
    }

    private interface Work {
        void run();
    }

    /** Returns seconds of processor time a machine-year. */
    private static double measure(String what, double years, Work work) {
        com.sun.management.OperatingSystemMXBean process =
                (com.sun.management.OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean();
        long cpu = process.getProcessCpuTime();
        long wall = System.nanoTime();
        work.run();
        double seconds = (process.getProcessCpuTime() - cpu) / 1e9;
        System.out.printf(
                Locale.ROOT,
                "  %s: %.1f s of the wall, %.1f s of processor time; a machine-year %.2f s and %.2f s%n",
                what,
                (System.nanoTime() - wall) / 1e9,
                seconds,
                (System.nanoTime() - wall) / 1e9 / years,
                seconds / years);
        return seconds / years;
    }

    private static String highest() throws IOException {
        Path status = Path.of("/proc/self/status");
        return Files.exists(status)
                ? Files.readAllLines(status).stream()
                        .filter(line -> line.startsWith("VmHWM"))
                        .map(line -> line.replaceAll("\\s+", " "))
                        .findFirst()
                        .orElse("not known")
                : "not known";
    }

    /** A fleet with faults as its history would have it. */
    private int write(HistoryDirectory directory, int days, Set<Cause> causes) {
        FleetPlan plan =
                TrialFleet.plan(new TrialSettings(7, SITES, days, Duration.ofSeconds(30), TrialChannels.FULL, causes));
        HistoryWriter writer = HistoryWriter.open(
                directory, new Duck.Limits(256, 1, root.resolve("spill")), new Views(directory)::script);
        Filling filling = new Filling(writer);
        for (SimulatedSite site : new SimulatedFleet(plan).sites()) {
            String id = site.site().id();
            SiteMonitor monitor = SiteMonitor.fresh(id, Policy.standard());
            plan.register()
                    .machinesAt(id)
                    .forEach(machine -> filling.take(id, new SiteRecord.Registered(plan.from(), machine), monitor));
            String gateway = plan.register().machinesAt(id).get(0).gateway();
            for (Instant at = plan.from().plusSeconds(60); !at.isAfter(plan.to()); at = at.plusSeconds(60)) {
                SiteBatch batch = site.advanceTo(at);
                batch.events().forEach(event -> filling.take(id, event, monitor));
                List<Reading> readings = batch.readings();
                if (!readings.isEmpty()) {
                    filling.take(id, new SiteRecord.Pack(gateway, Optional.empty(), at, readings, 0), monitor);
                }
                filling.take("", new SiteRecord.Tick(at), monitor);
            }
        }
        filling.flush();
        return plan.register().machines().size();
    }

    /** One partition of each topic. */
    private static final class Filling implements SiteMonitor.Output {
        private final HistoryWriter writer;
        private final List<Taken> batch = new ArrayList<>();
        private final long[] next = new long[2];
        private long at;

        Filling(HistoryWriter writer) {
            this.writer = writer;
        }

        void take(String key, SiteRecord record, SiteMonitor monitor) {
            at = record instanceof SiteRecord.Tick tick ? tick.at().toEpochMilli() : at;
            batch.add(new Taken(Topics.SITES, LOG, 0, next[0]++, at, key, SiteLogCodec.encode(record)));
            monitor.accept(record, this);
            if (batch.size() >= BATCH) {
                flush();
            }
        }

        void flush() {
            writer.add(
                    List.copyOf(batch),
                    Map.of(new Partition(Topics.SITES, LOG, 0), next[0], new Partition(Topics.CYCLES, LOG, 0), next[1]),
                    List.of());
            batch.clear();
        }

        @Override
        public void cycle(Cycle cycle) {
            batch.add(new Taken(Topics.CYCLES, LOG, 0, next[1]++, at, cycle.machine(), CycleJson.encode(cycle)));
        }

        @Override
        public void finding(Finding finding) {
            // The history of a firm has them; nothing here reads them.
        }

        @Override
        public void proof(Proof proof) {
            // As findings.
        }
    }

    /** How many cycles there were, and in how many an alert of cycles stood about their machine. */
    private static final class Nothing implements SiteMonitor.Output {
        private final Map<String, Set<Condition>> open = new HashMap<>();
        private long cycles;
        private long standing;

        @Override
        public void cycle(Cycle cycle) {
            cycles++;
            if (!open.getOrDefault(cycle.machine(), Set.of()).isEmpty()) {
                standing++;
            }
        }

        @Override
        public void finding(Finding finding) {
            finding.machine()
                    .filter(machine -> OfCycles.isOfCycles(finding.condition()))
                    .ifPresent(machine -> {
                        Set<Condition> own = open.computeIfAbsent(machine, each -> EnumSet.noneOf(Condition.class));
                        if (finding.step() == Finding.Step.CLEARED) {
                            own.remove(finding.condition());
                        } else {
                            own.add(finding.condition());
                        }
                    });
        }

        @Override
        public void proof(Proof proof) {
            // Only how long it takes.
        }
    }
}
