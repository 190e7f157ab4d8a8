package dev.rimecast.history.trial;

import dev.rimecast.history.backtest.Progress;
import dev.rimecast.history.backtest.Standing;
import dev.rimecast.history.backtest.Stretch;
import dev.rimecast.history.compare.Difference;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.View;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * A trial over the history: what has come in since the last time goes through the monitors twice. The first time it goes through
 * everything, or on from the newest weekly snapshot, since monitors know what they have learned. One partition's monitors are in memory at a time; the rest is in a
 * file for each partition.
 *
 * <p>A trial is a function of the log, its policy and its beginning: files may be lost, and the result is the same.
 */
public final class TrialRun {
    private static final int MEMORY_MEGABYTES = 96;
    private static final int CHUNK = 40_000;
    private static final long SAVE_NANOS = 60_000_000_000L;

    private final Path directory;
    private final TrialPolicy trial;

    /** @param directory for its files; made when needed, and of no other trial */
    public TrialRun(Path directory, TrialPolicy trial) {
        this.directory = directory;
        this.trial = trial;
    }

    /** The newest arrival that the history has: where a trial begins that begins now. Empty where there is no log yet. */
    public static Optional<Instant> newest(History history) {
        List<Long> newest = new ArrayList<>();
        history.duck()
                .ask(
                        "select epoch_ms(max(arrived_at)) from (select arrived_at from packs union all select arrived_at from records)",
                        row -> {
                            long millis = row.getLong(1);
                            if (!row.wasNull()) {
                                newest.add(millis);
                            }
                        });
        return newest.stream().findFirst().map(Instant::ofEpochMilli);
    }

    /**
     * Goes on to the end of the history.
     *
     * @param progress of what is new; may throw to stop, and what was decided until then is mostly kept
     * @throws HistoryException if the history or the files can't be used
     */
    public TrialResult advance(History history, Progress progress) {
        try {
            Files.createDirectories(directory);
        } catch (IOException e) {
            throw new HistoryException("the trial can't be kept in " + directory + ": " + e.getMessage(), e);
        }
        List<Stretch> stretches = Stretch.ofNewestLog(history);
        long all = 0;
        for (Stretch stretch : stretches) {
            all += stretch.to()
                    + 1
                    - TrialFile.next(file(stretch.partition()), stretch.log())
                            .orElseGet(() -> Standing.before(history, stretch, trial.since())
                                    .map(Standing::next)
                                    .orElse(stretch.from()));
        }
        List<TrialResult> results = new ArrayList<>();
        long done = 0;
        try (Duck duck = history.another(MEMORY_MEGABYTES, 1, View.PACKS, View.RECORDS)) {
            for (Stretch stretch : stretches) {
                PartitionDouble partition = start(history, stretch);
                long begin = partition.next;
                through(duck, stretch, partition, done, all, progress);
                done += stretch.to() + 1 - begin;
                results.add(partition.result(trial));
            }
        }
        return sum(results);
    }

    /** Where it was; else at the newest snapshot from before the trial; else at the beginning of the log. */
    private PartitionDouble start(History history, Stretch stretch) {
        return TrialFile.read(file(stretch.partition()))
                .filter(kept ->
                        kept.log.equals(stretch.log()) && kept.next >= stretch.from() && kept.next <= stretch.to() + 1)
                .or(() -> Standing.before(history, stretch, trial.since()).map(known -> at(stretch, known)))
                .orElseGet(() -> fresh(stretch));
    }

    private static PartitionDouble at(Stretch stretch, Standing known) {
        PartitionDouble partition = new PartitionDouble(stretch.log(), stretch.partition());
        partition.next = known.next();
        partition.isWhole = known.isWhole();
        known.sites().forEach(site -> partition.sites.put(site.site(), SiteDouble.of(site)));
        return partition;
    }

    private static PartitionDouble fresh(Stretch stretch) {
        PartitionDouble partition = new PartitionDouble(stretch.log(), stretch.partition());
        partition.next = stretch.from();
        partition.isWhole = stretch.from() == 0;
        return partition;
    }

    private void through(
            Duck duck, Stretch stretch, PartitionDouble partition, long before, long all, Progress progress) {
        long begin = partition.next;
        long saved = System.nanoTime();
        boolean isNews = begin <= stretch.to();
        for (long from = begin; from <= stretch.to(); from += CHUNK) {
            duck.ask(
                    stretch.sql(from, Math.min(from + CHUNK, stretch.to() + 1)),
                    row -> partition.take(trial, row.getLong(1), row.getString(2), row.getBytes(3), row.getLong(4)));
            partition.next = Math.min(from + CHUNK, stretch.to() + 1);
            if (System.nanoTime() - saved > SAVE_NANOS) {
                save(partition);
                saved = System.nanoTime();
            }
            progress.at(before + partition.next - begin, all);
        }
        if (isNews) {
            save(partition);
        }
    }

    private void save(PartitionDouble partition) {
        partition.settle(trial);
        TrialFile.write(file(partition.partition), partition);
    }

    private Path file(int partition) {
        return directory.resolve("trial-" + trial.id() + "-" + partition + ".state");
    }

    /** Deletes every file of trials below a directory, of one that has ended. */
    public static void clear(Path directory) {
        if (!Files.isDirectory(directory)) {
            return;
        }
        try (Stream<Path> files = Files.list(directory)) {
            for (Path file : files.filter(each -> each.getFileName().toString().startsWith("trial-"))
                    .toList()) {
                Files.delete(file);
            }
        } catch (IOException e) {
            throw new HistoryException("files of a trial can't be deleted in " + directory + ": " + e.getMessage(), e);
        }
    }

    private static TrialResult sum(List<TrialResult> parts) {
        Optional<Instant> reached =
                parts.stream().flatMap(part -> part.reached().stream()).max(Comparator.naturalOrder());
        List<Difference> differences = parts.stream()
                .flatMap(part -> part.differences().stream())
                .sorted(Comparator.comparing((Difference each) -> each.either().raisedAt())
                        .reversed())
                .toList();
        return new TrialResult(
                reached,
                parts.stream().mapToLong(TrialResult::currentRaised).sum(),
                parts.stream().mapToLong(TrialResult::candidateRaised).sum(),
                parts.stream().mapToLong(TrialResult::same).sum(),
                differences,
                parts.stream().allMatch(TrialResult::isWhole),
                parts.stream().mapToLong(TrialResult::leftOut).sum());
    }
}
