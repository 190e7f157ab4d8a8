package dev.rimecast.benchmarks.load;

import dev.rimecast.app.server.Role;
import dev.rimecast.app.server.Server;
import java.io.IOException;
import java.io.PrintStream;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.Stream;

/**
 * The whole product with a fleet that publishes in real time: what each machine costs, and how long it takes after a stop until nothing is
 * behind. Temperatures are sampled each {@value #SAMPLING_SECONDS} s and other channels told when they change, so that a machine sends about a
 * third of what a full row of eight each {@value #SAMPLING_SECONDS} s would be; {@link LearnedSite#inFullRows} is that.
 */
final class FleetRun {
    static final int SAMPLING_SECONDS = 10;
    /** Many machines stand on a site, so that 100,000 of them need no more connections than one process may open. */
    static final int SIMULATED_SITES = 5;

    private static final int UNDER_WAY = 20_000;
    private static final double MEGABYTE = 1 << 20;

    private final LearnedSite site;
    private final int clones;
    private final int seconds;

    FleetRun(LearnedSite site, int machines, int seconds) {
        this.site = site;
        this.clones = Math.max(1, machines / site.machines().size());
        this.seconds = seconds;
    }

    Map<String, Double> run(PrintStream out) throws Exception {
        Path directory = Files.createTempDirectory("rimecast-fleet");
        try {
            return run(directory, out);
        } finally {
            Engine.delete(directory);
        }
    }

    private Map<String, Double> run(Path directory, PrintStream out) throws Exception {
        Map<String, Double> figures = new LinkedHashMap<>();
        int machines = clones * site.machines().size();
        Product product = new Product(site, clones, directory, Role.all());
        product.prepare();
        AtomicLong clock = new AtomicLong(site.from().toEpochMilli());
        double state =
                site.states().values().stream().mapToInt(part -> part.length).sum();
        figures.put(
                "state of a machine with its share of the site's, B",
                state / site.machines().size());
        long start = System.nanoTime();
        Server server = product.start(() -> Instant.ofEpochMilli(clock.get()));
        figures.put("first start, the register brought in, s", secondsSince(start));
        progress(out, machines, figures);
        int place = live(server, clock, 0, 3 * seconds, machines, figures);
        progress(out, machines, figures);
        server.close();
        start = System.nanoTime();
        server = product.start(() -> Instant.ofEpochMilli(clock.get()));
        figures.put("restart until nothing is behind, s", secondsSince(start));
        figures.put("packs of each site", (double) place);
        server.close();
        return figures;
    }

    private static void progress(PrintStream out, int machines, Map<String, Double> figures) {
        out.printf(Locale.ROOT, "  %,d machines so far: %s%n", machines, figures);
        out.flush();
    }

    /** Warms up for as long as is measured. */
    private int live(Server server, AtomicLong clock, int from, int measured, int machines, Map<String, Double> figures)
            throws Exception {
        List<Template> templates =
                site.packs().stream().map(pack -> Template.of(pack, "b1")).toList();
        try (MqttLoad load = new MqttLoad(templates, clock, clones, UNDER_WAY)) {
            load.connect(server.mqttPort());
            long start = System.nanoTime();
            int place = publish(load, start, from, measured);
            long cpu = processNanos() - Measure.threadNanos(load.thread());
            long packs = load.receipts();
            long bytes = load.bytes();
            long begun = System.nanoTime();
            place = publish(load, start, place, 2 * measured);
            double wall = (System.nanoTime() - begun) / 1e9;
            double cores = (processNanos() - Measure.threadNanos(load.thread()) - cpu) / 1e9 / wall;
            figures.put("packs a second", (load.receipts() - packs) / wall);
            figures.put("cores without the load's own", cores);
            figures.put("processor time of a machine, us/s", cores * 1e6 / machines);
            figures.put("published by a machine, B/s", (load.bytes() - bytes) / wall / machines);
            figures.put("lag in the end, records", server.analytics().lagRecords());
            figures.put("packs without a receipt in the end", (double) load.sent() - load.receipts());
            System.gc();
            figures.put(
                    "heap after a collection, MB",
                    ManagementFactory.getMemoryMXBean().getHeapMemoryUsage().getUsed() / MEGABYTE);
            figures.put("process tree (PSS), load included, MB", pssMegabytes());
            return place;
        }
    }

    /** Each pack at the second after {@code start} at which it was recorded. */
    private int publish(MqttLoad load, long start, int from, int untilSecond) throws InterruptedException {
        int place = from;
        while (true) {
            double second = (System.nanoTime() - start) / 1e9;
            if (second >= untilSecond) {
                return place;
            }
            double due = (site.packs().get(place).atMillis() - site.from().toEpochMilli()) / 1000.0;
            if (due <= second) {
                Part.require(load.step(), "the packs did not last");
                place++;
            } else {
                TimeUnit.MILLISECONDS.sleep(1);
            }
        }
    }

    /** Without the second in which nothing was behind. */
    private static double secondsSince(long start) {
        return (System.nanoTime() - start) / 1e9 - 1;
    }

    private static long processNanos() {
        return ((com.sun.management.OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean())
                .getProcessCpuTime();
    }

    /** Of this process and all that it started; NaN where there is no /proc. */
    private static double pssMegabytes() {
        Stream<ProcessHandle> tree = Stream.concat(
                Stream.of(ProcessHandle.current()), ProcessHandle.current().descendants());
        return tree.mapToDouble(process -> pss(process.pid())).sum();
    }

    private static double pss(long pid) {
        try (Stream<String> lines = Files.lines(Path.of("/proc/" + pid + "/smaps_rollup"))) {
            return lines.filter(line -> line.startsWith("Pss:"))
                            .mapToLong(line -> Long.parseLong(line.replaceAll("\\D", "")))
                            .sum()
                    / 1024.0;
        } catch (IOException | java.io.UncheckedIOException gone) {
            return Double.NaN;
        }
    }
}
