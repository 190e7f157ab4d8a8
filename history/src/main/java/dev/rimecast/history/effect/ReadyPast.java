package dev.rimecast.history.effect;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.score.FittingConditions;
import dev.rimecast.history.backtest.AlertRows;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.Judge;
import dev.rimecast.history.backtest.Labels;
import dev.rimecast.history.backtest.LogRun;
import dev.rimecast.history.backtest.Progress;
import dev.rimecast.history.backtest.Resume;
import dev.rimecast.history.backtest.Start;
import dev.rimecast.history.backtest.Window;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.query.History;
import dev.rimecast.history.tune.Tapes;
import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Machine;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.BiConsumer;
import java.util.function.BooleanSupplier;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * The last months by the numbers in force, with what each site's readings have come to: other numbers that act on cycles are tried on it a
 * site at a time, in a fraction of a second each. They take effect, as those of a trial do, on what was learned until then:
 * {@link #RUN_IN} before the time that is judged, on every site.
 */
public final class ReadyPast implements AutoCloseable {
    /** Before what is judged, so that an alert that the other numbers would have raised by then stands. */
    static final Duration RUN_IN = Duration.ofDays(14);

    /** More would take hours, and gigabytes. */
    static final int MOST_SITES = 1_000;
    /** Of the disk, which is the server's, too. */
    private static final long LEAST_FREE = 1L << 30;

    private static final Duration MINUTE = Duration.ofMinutes(1);
    /** Of these sites, so many are taken before one of the quiet ones is. */
    private static final int BUSY_TO_QUIET = 2;

    private final Policy policy;
    private final Instant newest;
    private final Instant since;
    private final Window window;
    private final Decided judged;
    private final Tapes tapes;
    private final Map<String, List<Finding>> before = new HashMap<>();
    private final Map<String, List<AlertRow>> current = new TreeMap<>();
    private final Map<String, List<Machine>> machines = new TreeMap<>();
    private volatile boolean isClosed;

    private ReadyPast(Policy policy, Instant newest, Instant since, int days, Decided decided, Tapes tapes) {
        this.policy = policy;
        this.newest = newest;
        this.since = since;
        this.window = Window.of(decided, days);
        this.judged = window.of(decided);
        this.tapes = tapes;
        judged.machines().stream()
                .filter(machine -> judged.watched().containsKey(machine.id()))
                .forEach(machine -> machines.computeIfAbsent(machine.site(), site -> new ArrayList<>())
                        .add(machine));
        Map<String, List<Finding>> bySite = new HashMap<>();
        decided.findings()
                .get(0)
                .forEach(finding -> bySite.computeIfAbsent(finding.site(), site -> new ArrayList<>())
                        .add(finding));
        bySite.forEach((site, findings) -> {
            current.put(site, window.of(AlertRows.of(findings)));
            before.put(
                    site,
                    findings.stream()
                            .filter(finding -> finding.at().isBefore(since))
                            .toList());
        });
    }

    /**
     * Goes through the readings once, from the newest weekly states before what is needed.
     *
     * @param directory is there and empty
     * @param days that are judged
     * @throws HistoryException if the history has no log, or too many sites for it, or the disk is nearly full
     */
    public static ReadyPast of(History past, Policy policy, int days, Path directory, int threads, Progress progress) {
        return of(past, policy, days, RUN_IN, directory, threads, progress);
    }

    static ReadyPast of(
            History past, Policy policy, int days, Duration runIn, Path directory, int threads, Progress progress) {
        Instant newest = Start.newestMinute(past)
                .orElseThrow(() -> new HistoryException(
                        "The history has nothing yet: it gets its first file within minutes of the first readings."));
        Instant since = newest.minus(Duration.ofDays(days)).minus(runIn);
        Tapes tapes = new Tapes(directory);
        boolean isWhole = false;
        try {
            List<LogRun.Trial> trials =
                    List.of(new LogRun.Trial("as it is", Optional.of(policy), Optional.of(bounded(tapes)), since));
            Start start = Start.before(past, since.minus(MINUTE));
            Progress watched = (done, all) -> {
                progress.at(done, all);
                refuseFullDisk(directory, LEAST_FREE);
            };
            Decided decided = LogRun.run(past, trials, threads, watched, start, Resume.none());
            tapes.end();
            isWhole = true;
            return new ReadyPast(policy, newest, since, days, decided, tapes);
        } finally {
            if (!isWhole) {
                tapes.close();
            }
        }
    }

    private static BiConsumer<String, SiteMonitor> bounded(Tapes tapes) {
        return (site, monitor) -> {
            refuseMore(tapes.size(), MOST_SITES);
            tapes.of(site, monitor);
        };
    }

    static void refuseMore(int sites, int most) {
        if (sites >= most) {
            throw new HistoryException("The effect of a number is shown at once for up to " + most
                    + " sites, and there are more. A back-test answers it for any number of them.");
        }
    }

    static void refuseFullDisk(Path directory, long least) {
        try {
            if (Files.getFileStore(directory).getUsableSpace() < least) {
                throw new HistoryException("The disk has less than " + (least >> 20)
                        + " MB free: the last months are not made ready on it, which takes some MB a machine.");
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    public Policy policy() {
        return policy;
    }

    /** The newest minute that it has. */
    public Instant newest() {
        return newest;
    }

    public Window window() {
        return window;
    }

    /** What was watched in the time that is judged, and everything that was reported. */
    public Decided judged() {
        return judged;
    }

    public int sites() {
        return machines.size();
    }

    public int machines() {
        return machines.values().stream().mapToInt(List::size).sum();
    }

    /** About machines, by the numbers in force. */
    public int alerts() {
        return current.values().stream().mapToInt(SiteShift::count).sum();
    }

    /**
     * What is known, by site: found out once for all of them.
     *
     * @param busy sites where something is known or an alert stood: there other numbers show most
     */
    public record Known(Map<String, Labels> bySite, Set<String> busy) {
        private Labels of(String site) {
            return bySite.getOrDefault(site, new Labels(List.of(), Set.of(), 0));
        }
    }

    public Known known(Labels labels) {
        Map<String, String> siteOf = new HashMap<>();
        machines.forEach((site, all) -> all.forEach(machine -> siteOf.put(machine.id(), site)));
        Map<String, Labels> bySite = labels.bySite(siteOf);
        Set<String> busy = machines.keySet().stream()
                .filter(site -> !current.getOrDefault(site, List.of()).isEmpty() || bySite.containsKey(site))
                .collect(Collectors.toSet());
        return new Known(bySite, busy);
    }

    /**
     * All sites: two where something is known or was raised, then one of the others, by turns; within each kind by an order that has
     * nothing to do with them, so that the first ones stand for all of their kind.
     */
    public List<String> order(Known known) {
        Deque<String> busy = new ArrayDeque<>();
        Deque<String> quiet = new ArrayDeque<>();
        machines.keySet().stream()
                .sorted((a, b) -> Integer.compareUnsigned(mixed(a), mixed(b)))
                .forEach(site -> (known.busy().contains(site) ? busy : quiet).add(site));
        List<String> order = new ArrayList<>();
        while (!busy.isEmpty() || !quiet.isEmpty()) {
            for (int i = 0; i < BUSY_TO_QUIET && !busy.isEmpty(); i++) {
                order.add(busy.remove());
            }
            if (!quiet.isEmpty()) {
                order.add(quiet.remove());
            }
        }
        return List.copyOf(order);
    }

    /** The finalizer of MurmurHash3, so that names that count up are not in their order. */
    private static int mixed(String site) {
        int h = site.hashCode();
        h = (h ^ h >>> 16) * 0x85ebca6b;
        h = (h ^ h >>> 13) * 0xc2b2ae35;
        return h ^ h >>> 16;
    }

    /**
     * Decides a site anew.
     *
     * @param candidate differs only in numbers that act on cycles
     * @param isWanted asked with each cycle
     * @throws java.util.concurrent.CancellationException if nobody wants it any more
     * @throws IllegalStateException if this is closed: without tapes nothing would differ
     */
    public SiteShift shift(String site, Policy candidate, Known known, BooleanSupplier isWanted) {
        if (isClosed) {
            throw new IllegalStateException("closed");
        }
        List<AlertRow> now = current.getOrDefault(site, List.of());
        List<AlertRow> other = now;
        if (tapes.sites().contains(site) && candidate != policy) {
            Findings findings = new Findings(isWanted);
            tapes.play(site, candidate, findings);
            other = window.of(AlertRows.of(
                    Stream.concat(before.getOrDefault(site, List.of()).stream(), findings.all.stream())
                            .toList()));
        }
        List<Machine> of = machines.getOrDefault(site, List.of());
        Map<String, Decided.Span> watched = new HashMap<>();
        for (Machine machine : of) {
            Decided.Span span = judged.watched().get(machine.id());
            if (span != null) {
                watched.put(machine.id(), span);
            }
        }
        Decided part = new Decided(of, watched, judged.events(), List.of(), 0, 0);
        Judge judge = new Judge(part, known.of(site), FittingConditions.standard());
        return SiteShift.of(site, known.busy().contains(site), of.size(), now, other, judge);
    }

    /** What the sites seen say of all; empty while they are too few. */
    public Optional<FleetShift> fleet(List<SiteShift> seen, Known known) {
        int busy = known.busy().size();
        return FleetShift.of(List.of(
                new FleetShift.Stratum(busy, more(seen, true)),
                new FleetShift.Stratum(machines.size() - busy, more(seen, false))));
    }

    private static List<Integer> more(List<SiteShift> seen, boolean isBusy) {
        return seen.stream()
                .filter(each -> each.isBusy() == isBusy)
                .map(SiteShift::more)
                .toList();
    }

    /** Bytes on disk. */
    public long bytes() {
        return tapes.bytes();
    }

    @Override
    public void close() {
        isClosed = true;
        tapes.close();
    }
}
