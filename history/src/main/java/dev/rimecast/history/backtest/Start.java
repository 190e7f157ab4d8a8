package dev.rimecast.history.backtest;

import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.query.History;
import dev.rimecast.history.state.StateFile;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.Snapshot;
import dev.rimecast.history.store.StoredFile.Partition;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Predicate;

/**
 * Where a back-test of the policies that were in force begins: at the log's beginning, or, in each partition that has one, at a weekly
 * snapshot of the monitors. Only for those policies: what another one would have learned until then is in no snapshot.
 */
public final class Start {
    /** The policies that were in force, and no other. */
    static final List<LogRun.Trial> LIVE = List.of(new LogRun.Trial("live", Optional.empty()));

    /** How far back from the end a tick is looked for: there is one a minute. */
    private static final long LOOKS_BACK = 20_000;

    private final HistoryDirectory directory;
    private final Map<Integer, Snapshot> snapshots;
    /** Alerts that were over before it begins. */
    private final Set<UUID> over = ConcurrentHashMap.newKeySet();

    private Start(HistoryDirectory directory, Map<Integer, Snapshot> snapshots) {
        this.directory = directory;
        this.snapshots = Map.copyOf(snapshots);
    }

    /** At the beginning of the log. */
    public static Start ofTheLog(History history) {
        return new Start(history.directory(), Map.of());
    }

    /** At the newest snapshots that have seen no minute after that one. */
    public static Start before(History history, Instant latest) {
        Map<Integer, Snapshot> found = new HashMap<>();
        for (Stretch stretch : Stretch.ofNewestLog(history)) {
            newest(history, stretch, snapshot -> !snapshot.until().isAfter(latest))
                    .ifPresent(snapshot -> found.put(stretch.partition(), snapshot));
        }
        return new Start(history.directory(), found);
    }

    /** The newest minute that the history has; empty where none can be found near the end. */
    public static Optional<Instant> newestMinute(History history) {
        List<Instant> ticks = new ArrayList<>();
        for (Stretch stretch : Stretch.ofNewestLog(history)) {
            history.duck().ask(stretch.sql(stretch.to() - LOOKS_BACK, stretch.to() + 1), row -> {
                if (row.getString(2) == null && decoded(row, 3) instanceof SiteRecord.Tick tick) {
                    ticks.add(tick.at());
                }
            });
        }
        return ticks.stream().max(Comparator.naturalOrder());
    }

    /** The newest snapshot of this version from which the history goes on without a gap. */
    public static Optional<Snapshot> newest(History history, Stretch stretch, Predicate<Snapshot> isMeant) {
        String version = version();
        Partition partition = new Partition(Topics.SITES, stretch.log(), stretch.partition());
        List<Snapshot> usable = history.manifest().snapshots().stream()
                .filter(snapshot -> snapshot.partition().equals(partition)
                        && snapshot.version().equals(version)
                        && snapshot.next() >= stretch.from()
                        && snapshot.next() <= stretch.to() + 1)
                .filter(isMeant)
                .sorted(Comparator.comparingLong(Snapshot::next).reversed())
                .toList();
        if (usable.isEmpty()) {
            return Optional.empty();
        }
        long firstPack = firstPack(history, stretch);
        return usable.stream()
                .filter(snapshot -> snapshot.next() >= firstPack)
                .filter(snapshot ->
                        StateFile.isWhole(snapshot.in(history.directory()), key(partition), snapshot.bytes()))
                .findFirst();
    }

    /** Packs go before the other records do. */
    private static long firstPack(History history, Stretch stretch) {
        long[] first = {Long.MAX_VALUE};
        history.duck()
                .ask(
                        "select coalesce(min(log_offset), " + Long.MAX_VALUE + ") from packs where log = "
                                + Duck.literal(stretch.log()) + " and log_partition = " + stretch.partition(),
                        row -> first[0] = row.getLong(1));
        return first[0];
    }

    /** Of detection and of the product's policy. */
    static String version() {
        return Resume.question(LIVE);
    }

    static String key(Partition partition) {
        return "snapshot|" + version() + '|' + partition.log() + '|' + partition.partition();
    }

    /** Where the partition begins, with how many records are left. */
    Stretch cut(History history, Stretch stretch) {
        Snapshot snapshot = snapshots.get(stretch.partition());
        if (snapshot == null) {
            return stretch;
        }
        long[] left = {0};
        history.duck()
                .ask(
                        "select count(*) from (" + stretch.sql(snapshot.next(), stretch.to() + 1) + ")",
                        row -> left[0] = row.getLong(1));
        return new Stretch(stretch.log(), stretch.partition(), snapshot.next(), stretch.to(), left[0]);
    }

    /** What the monitors knew there; fresh ones at the log's beginning. */
    PartitionRun.Reached reached(Duck duck, Stretch stretch, List<LogRun.Trial> trials) {
        Snapshot snapshot = snapshots.get(stretch.partition());
        if (snapshot == null) {
            return new PartitionRun.Reached(stretch.from());
        }
        PartitionRun.Reached reached = read(directory, snapshot, trials);
        Map<String, List<SiteRecord.Happened>> earlier = new HashMap<>();
        duck.ask(
                "select site, record from records where log = " + Duck.literal(stretch.log()) + " and log_partition = "
                        + stretch.partition() + " and log_offset < " + snapshot.next() + " order by log_offset",
                row -> {
                    if (decoded(row, 2) instanceof SiteRecord.Happened event) {
                        earlier.computeIfAbsent(row.getString(1), site -> new ArrayList<>())
                                .add(event);
                    }
                });
        reached.sites.forEach((site, monitor) -> monitor.before(earlier.getOrDefault(site, List.of())));
        return reached;
    }

    static PartitionRun.Reached read(HistoryDirectory directory, Snapshot snapshot, List<LogRun.Trial> trials) {
        PartitionRun.Reached reached = StateFile.read(
                        snapshot.in(directory),
                        key(snapshot.partition()),
                        in -> PartitionRun.Reached.read(in, trials),
                        why -> {})
                .orElseThrow(() -> new HistoryException(snapshot.in(directory) + " can no longer be read: ask again"));
        reached.taken = 0;
        return reached;
    }

    static SiteRecord decoded(ResultSet row, int column) throws SQLException {
        try {
            return SiteLogCodec.decode(row.getBytes(column));
        } catch (IllegalArgumentException unreadable) {
            return new SiteRecord.Unregistered(Instant.EPOCH, "");
        }
    }

    /** Told by who begins, so that live can be held against what came afterwards. */
    void begun(PartitionRun.Reached reached) {
        if (!snapshots.isEmpty()) {
            reached.sites.values().forEach(site -> over.addAll(site.over()));
        }
    }

    /** Whether an alert that only live has was over before. */
    boolean isBefore(UUID alert, Instant said) {
        return over.contains(alert)
                || until().filter(until -> said.isBefore(until.minus(Live.REMEMBERED)))
                        .isPresent();
    }

    /** The newest minute that a snapshot had seen; empty at the log's beginning. */
    public Optional<Instant> until() {
        return snapshots.values().stream().map(Snapshot::until).max(Comparator.naturalOrder());
    }

    /** For a person. */
    public String inWords() {
        return until().map(until -> String.format(
                        Locale.ROOT,
                        "Begun at the states of %s (%d partitions); what was before was not gone through.%n",
                        until,
                        snapshots.size()))
                .orElse(String.format(Locale.ROOT, "Begun at the beginning of the log.%n"));
    }
}
