package dev.rimecast.benchmarks.load;

import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code ./rimecast bench}: every part of the product under load, beside ceilings of the same run. */
@Command(
        name = "rimecast bench",
        mixinStandardHelpOptions = true,
        description = {
            "Loads the parts of the product one after another, by turns with ceilings, and prints the medians, with ratios: raw"
                    + " MQTT, Kafka alone, a bridge that does nothing, counting per key, bare parsing. Ratios of one run can be"
                    + " compared between machines, rates can't. Takes about ten minutes a round; nothing else should run.",
            "With --fleet it is the whole product with so many machines in real time instead: processor time, memory and"
                    + " state for each, and how long a restart takes.",
        })
public final class Bench implements Callable<Integer> {
    private static final int SAMPLING_SECONDS = 60;
    private static final int SIMULATED_SITES = 3;

    @Option(
            names = "--machines",
            defaultValue = "10000",
            description = "How many, all parts (default: ${DEFAULT-VALUE}).")
    int machines;

    @Option(names = "--rounds", defaultValue = "5", description = "Medians of so many (default: ${DEFAULT-VALUE}).")
    int rounds;

    @Option(
            names = "--seconds",
            defaultValue = "6",
            description = "So long is measured at a time, after warming up as long (default: ${DEFAULT-VALUE}).")
    int seconds;

    @Option(
            names = "--rate",
            paramLabel = "PACKS",
            defaultValue = "6250",
            description =
                    "Packs a second under which LATENCY waits for alerts (default: ${DEFAULT-VALUE}); fewer on a slower machine.")
    int packsPerSecond;

    @Option(names = "--only", split = ",", description = "Only these parts: ${COMPLETION-CANDIDATES}.")
    List<Part.Name> only = new ArrayList<>();

    @Option(
            names = "--json",
            paramLabel = "FILE",
            description = "Write the figures there, too, with version, date, machine, options and load.")
    @org.jspecify.annotations.Nullable
    Path json;

    @Option(
            names = "--fleet",
            split = ",",
            paramLabel = "N",
            description = "Machines of the whole product in real time.")
    List<Integer> fleets = new ArrayList<>();

    @Option(
            names = "--rows",
            description =
                    "With --fleet: each machine sends a full row of eight readings each 10 s, whether they have changed or not.")
    boolean rows;

    @Spec
    CommandSpec command = CommandSpec.create();

    private final PrintStream out = System.out;

    public static void main(String[] args) {
        // Vert.x and Kafka leave threads behind.
        System.exit(new CommandLine(new Bench())
                .setCaseInsensitiveEnumValuesAllowed(true)
                .execute(args));
    }

    @Override
    public Integer call() throws Exception {
        if (packsPerSecond < 1) {
            throw new CommandLine.ParameterException(
                    new CommandLine(this), "--rate is " + packsPerSecond + "; it is packs a second, at least 1");
        }
        Circumstances circumstances =
                new Circumstances(command.commandLine().getParseResult().originalArgs());
        Map<String, Map<String, Double>> figures = fleets.isEmpty() ? parts() : fleets();
        if (json != null) {
            Files.writeString(json, Report.json(circumstances.told(), figures));
        }
        return 0;
    }

    private Map<String, Map<String, Double>> fleets() throws Exception {
        Map<String, Map<String, Double>> all = new LinkedHashMap<>();
        LearnedSite site = LearnedSite.simulate(FleetRun.SAMPLING_SECONDS, FleetRun.SIMULATED_SITES, 3);
        if (rows) {
            site = site.inFullRows(FleetRun.SAMPLING_SECONDS);
        }
        for (int count : fleets) {
            Map<String, Double> figures = new FleetRun(site, count, seconds).run(out);
            all.put("fleet-" + count, figures);
            out.printf(Locale.ROOT, "%,d machines%n", count);
            figures.forEach((name, value) -> out.printf(Locale.ROOT, "  %-60s %,14.2f%n", name, value));
            out.flush();
        }
        return all;
    }

    private Map<String, Map<String, Double>> parts() throws Exception {
        LearnedSite site = LearnedSite.simulate(SAMPLING_SECONDS, SIMULATED_SITES, 48);
        int clones = Math.max(1, machines / site.machines().size());
        out.printf(
                Locale.ROOT,
                "%,d machines on %,d sites, packs of %d readings, %d rounds, %d cores%n",
                clones * site.machines().size(),
                clones,
                LearnedSite.PACK,
                rounds,
                Runtime.getRuntime().availableProcessors());
        Set<Part.Name> wanted = only.isEmpty() ? Set.of(Part.Name.values()) : Set.copyOf(only);
        Map<Part.Name, List<Measure>> found = new LinkedHashMap<>();
        for (int round = 1; round <= rounds; round++) {
            for (Part.Name name : Part.Name.values()) {
                if (wanted.contains(name)) {
                    Measure measure = new Part(site, clones, seconds, packsPerSecond).run(name);
                    found.computeIfAbsent(name, unused -> new ArrayList<>()).add(measure);
                    out.printf(Locale.ROOT, "  round %d %-12s %s%n", round, name.label(), measure);
                    out.flush();
                }
            }
        }
        Report report = new Report(found);
        out.println();
        report.print(out);
        return report.figures();
    }
}
