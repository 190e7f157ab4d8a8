package dev.rimecast.benchmarks.load;

import dev.rimecast.alerts.view.Changes;
import dev.rimecast.app.server.Role;
import dev.rimecast.app.server.Server;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.Collectors;

/** The whole product under load: from the socket to the state that is stored, and from a reading to its alert. */
final class WholeRun {
    private static final int UNDER_WAY = 4000;
    /** Records that analytics may be behind before the load waits, as gateways do that get no receipt. */
    private static final double LAG = 20_000;

    private static final long PROBE_NANOS = 250_000_000;
    /** After the pause in which what was left of warming up was done. */
    private static final double SETTLE_SECONDS = 3;

    private static final int CATCH_UP_SECONDS = 120;
    /** Longer than for one part: there is more to compile, with less time for it. */
    private static final double WARM_SECONDS = 120;
    /** What else analytics says of a reading. */
    private static final List<String> OTHERWISE = List.of("repeated", "late", "conflicting", "unregistered");
    /** Parts of threads' names: whose processor time is told apart. */
    private static final List<String> THREADS =
            List.of("eventloop", "rimecast-analytics", "alerts-", "history", "data-plane-kafka");

    private final LearnedSite site;
    private final int clones;
    private final int seconds;
    private final Set<Role> roles;

    /** @param roles of the process: all of them, or those of the way from the socket to the state */
    WholeRun(LearnedSite site, int clones, int seconds, Set<Role> roles) {
        this.site = site;
        this.clones = clones;
        this.seconds = seconds;
        this.roles = roles;
    }

    private MqttLoad load(AtomicLong clock) {
        List<Template> templates =
                site.packs().stream().map(pack -> Template.of(pack, "b1")).toList();
        return new MqttLoad(templates, clock, clones, UNDER_WAY);
    }

    /** As much as goes through, with analytics at most {@value #LAG} records behind; in the end nothing may be missing. */
    Measure sustained(Path directory) throws Exception {
        Product product = new Product(site, clones, directory, roles);
        product.prepare();
        AtomicLong clock = new AtomicLong(site.from().toEpochMilli());
        try (Server server = product.start(() -> Instant.ofEpochMilli(clock.get()));
                MqttLoad load = load(clock)) {
            load.connect(server.mqttPort());
            Used used = new Used(server);
            keepUp(load, used, WARM_SECONDS);
            double before = behind(load, used);
            Measure measure = measured(load, used);
            double after = behind(load, used);
            double readings = measure.packsPerSecond() * LearnedSite.PACK;
            load.awaitReceipts(CATCH_UP_SECONDS);
            used.awaitAll(load.receipts() * LearnedSite.PACK, CATCH_UP_SECONDS);
            Part.require(load.refused() == 0, "packs were refused");
            return measure.with("readings/s", readings)
                    .with("packs behind before", before)
                    .with("packs behind after", after)
                    .with("readings not used, and counted as such", used.counted(OTHERWISE))
                    .with("readings lost", load.receipts() * LearnedSite.PACK - used.count() - used.counted(OTHERWISE));
        }
    }

    private Measure measured(MqttLoad load, Used used) throws Exception {
        Thread pump = new Thread(() -> {
            try {
                keepUp(load, used, seconds + 1.0);
            } catch (Exception e) {
                System.err.println("the load ended: " + e);
            }
        });
        pump.start();
        long packs = used.count() / LearnedSite.PACK;
        Map<String, Long> before = nanos();
        Measure measure = Measure.over(seconds, () -> used.count() / LearnedSite.PACK, load.thread());
        double done = Math.max(1.0, used.count() / LearnedSite.PACK - packs);
        Map<String, Long> after = nanos();
        pump.join();
        for (String part : THREADS) {
            double nanos = after.getOrDefault(part, 0L) - before.getOrDefault(part, 0L);
            measure = measure.with(part + " us/pack", nanos / 1000 / done);
        }
        return measure;
    }

    private static Map<String, Long> nanos() {
        return THREADS.stream().collect(Collectors.toMap(part -> part, Measure::threadsNanos));
    }

    private void keepUp(MqttLoad load, Used used, double forSeconds) throws InterruptedException {
        long until = System.nanoTime() + (long) (forSeconds * 1e9);
        while (System.nanoTime() < until) {
            long let = (long) load.position() * clones;
            boolean isBehind = let - load.receipts() > UNDER_WAY || let - used.count() / LearnedSite.PACK > LAG;
            if (isBehind || !load.step()) {
                TimeUnit.MILLISECONDS.sleep(1);
            }
        }
    }

    /** What analytics has used of what came since this was made. */
    private static final class Used {
        private final Server server;
        private final long before;

        Used(Server server) {
            this.server = server;
            this.before = all("used");
        }

        private long all(String outcome) {
            return (long) server.meters()
                    .get("rimecast.analytics.readings")
                    .tag("outcome", outcome)
                    .counter()
                    .count();
        }

        long count() {
            return all("used") - before;
        }

        double counted(List<String> outcomes) {
            return outcomes.stream().mapToLong(this::all).sum();
        }

        void awaitAll(long sent, int seconds) throws InterruptedException {
            long until = System.nanoTime() + TimeUnit.SECONDS.toNanos(seconds);
            while (count() + counted(OTHERWISE) < sent && System.nanoTime() < until) {
                TimeUnit.MILLISECONDS.sleep(20);
            }
        }
    }

    /** Under half of the load that is aimed at, or another: from before a pack is published until its alert is committed. */
    Measure latency(Path directory, int packsPerSecond) throws Exception {
        Product product = new Product(site, clones, directory, roles);
        product.prepare();
        AtomicLong clock = new AtomicLong(site.from().toEpochMilli());
        try (Server server = product.start(() -> Instant.ofEpochMilli(clock.get()));
                MqttLoad load = load(clock);
                Hops hops = new Hops(server.kafka())) {
            load.connect(server.mqttPort());
            Used used = new Used(server);
            Probes probes = new Probes();
            try (Changes.Subscription unused = server.alerts().changes().subscribe(change -> {
                if (change.kind().equals("alert") && probes.alert(change.machine(), System.nanoTime())) {
                    hops.alert(change.machine());
                }
            })) {
                Paced paced = new Paced(load, probes, hops, clock, packsPerSecond);
                paced.run(WARM_SECONDS);
                boolean isThere = caughtUp(load, used).isPresent();
                Part.require(
                        isThere,
                        String.format(
                                Locale.ROOT,
                                "long after it had warmed up analytics was %,.0f of %,d packs behind, %,d of them without"
                                        + " a receipt: try fewer than %,d packs a second",
                                behind(load, used),
                                load.sent(),
                                load.sent() - load.receipts(),
                                packsPerSecond));
                paced.run(SETTLE_SECONDS);
                probes.clear();
                hops.clear();
                double before = behind(load, used);
                long receipts = load.receipts();
                Flushes flushes = Flushes.now();
                long start = System.nanoTime();
                paced.run(4.0 * seconds);
                double lasted = (System.nanoTime() - start) / 1e9;
                double rate = (load.receipts() - receipts) / lasted;
                Flushes after = Flushes.now();
                double behind = behind(load, used);
                OptionalDouble caughtUp = caughtUp(load, used);
                for (int i = 0; i < 100 && !probes.areAllAlerts(); i++) {
                    TimeUnit.MILLISECONDS.sleep(100);
                }
                Probes.doubt(packsPerSecond, rate, before, behind, caughtUp).ifPresent(System.err::println);
                Measure measure = probes.tell(new Measure(rate, 0, Map.of()))
                        .with("packs a second asked for", packsPerSecond)
                        .with("packs behind before", before)
                        .with("packs behind after", behind)
                        .with("caught up after s", caughtUp.orElse(Double.NaN));
                return after.tell(hops.tell(measure), flushes, lasted);
            }
        }
    }

    /** What was sent and analytics has not done; what it says of its lag is as of its last fetch, far too little when it is behind. */
    private static double behind(MqttLoad load, Used used) {
        return (load.readings() - used.count() - used.counted(OTHERWISE)) / LearnedSite.PACK;
    }

    /** Waits until everything that was sent is done. */
    private static OptionalDouble caughtUp(MqttLoad load, Used used) throws InterruptedException {
        long from = System.nanoTime();
        load.awaitReceipts(CATCH_UP_SECONDS);
        used.awaitAll(load.readings(), CATCH_UP_SECONDS);
        return behind(load, used) > 0 ? OptionalDouble.empty() : OptionalDouble.of((System.nanoTime() - from) / 1e9);
    }

    /** Steps of all gateways at a steady rate, and four times a second a machine that is far too hot. */
    private final class Paced {
        private final MqttLoad load;
        private final Probes probes;
        private final Hops hops;
        private final AtomicLong clock;
        private final double stepNanos;

        Paced(MqttLoad load, Probes probes, Hops hops, AtomicLong clock, int packsPerSecond) {
            this.load = load;
            this.probes = probes;
            this.hops = hops;
            this.clock = clock;
            this.stepNanos = 1e9 * clones / packsPerSecond;
        }

        void run(double forSeconds) throws Exception {
            long start = System.nanoTime();
            long until = start + (long) (forSeconds * 1e9);
            long steps = 0;
            long hot = 0;
            while (System.nanoTime() < until) {
                long now = System.nanoTime();
                if (now >= start + steps * stepNanos) {
                    Part.require(load.step(), "the packs did not last: measure for less long");
                    steps++;
                } else if (now >= start + hot * PROBE_NANOS) {
                    long before = System.currentTimeMillis();
                    String machine = load.probe(site, clock.get());
                    hops.sent(machine, before);
                    probes.sent(machine, System.nanoTime());
                    hot++;
                } else {
                    TimeUnit.MICROSECONDS.sleep(200);
                }
            }
        }
    }
}
