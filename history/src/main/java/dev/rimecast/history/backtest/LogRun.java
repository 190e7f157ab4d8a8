package dev.rimecast.history.backtest;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.View;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Queue;
import java.util.concurrent.CancellationException;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.function.BiConsumer;
import java.util.stream.IntStream;

/**
 * The sites' logs of the history through the monitors that decide live, record by record in the order of arrival. Where the
 * history begins with the log, the live policy gives the findings that were made live; where retention has taken its
 * beginning, the monitors have to learn first.
 *
 * <p>Sites are on partitions, and partitions are decided in parallel. What is in memory is a chunk of each partition that is
 * under way, the monitors, and the findings.
 */
public final class LogRun {
    private static final int MEMORY_MEGABYTES = 96;
    private static final int CLOSE_SECONDS = 60;

    private LogRun() {}

    /**
     * A policy to try.
     *
     * @param policy empty: those that the log itself names, each from its record on
     * @param taped where each site's monitor is told before its first record; not with {@link Resume}, since what is noted is not kept
     * @param since the minute at which the policy takes effect, and from which a tape is; until then those that the log names
     */
    public record Trial(
            String name, Optional<Policy> policy, Optional<BiConsumer<String, SiteMonitor>> taped, Instant since) {
        public Trial(String name, Optional<Policy> policy) {
            this(name, policy, Optional.empty());
        }

        public Trial(String name, Optional<Policy> policy, Optional<BiConsumer<String, SiteMonitor>> taped) {
            this(name, policy, taped, Instant.MIN);
        }

        /** Whether nothing but the policies in force has decided until then. */
        boolean isLiveUntil(Instant until) {
            return policy.isEmpty() && taped.isEmpty() || since.isAfter(until);
        }
    }

    /**
     * Decides every site's log once for each trial.
     *
     * @param threads partitions at a time, each with some 100 MB for the database
     * @throws HistoryException if the history has no log
     */
    public static Decided run(History history, List<Trial> trials, int threads, Progress progress) {
        return run(history, trials, threads, progress, Start.ofTheLog(history), Resume.none());
    }

    /**
     * The same, going on where one that was interrupted stopped.
     *
     * @param progress may throw to stop: what was decided until then is kept
     * @param start at a snapshot only where nothing but the policies in force is tried, or one other that takes effect later
     * @param resume where; {@link Resume#done} is for who has told the answer
     */
    public static Decided run(
            History history, List<Trial> trials, int threads, Progress progress, Start start, Resume resume) {
        return run(history, trials, threads, progress, start, resume, PartitionRun.CHUNK);
    }

    static Decided run(
            History history,
            List<Trial> trials,
            int threads,
            Progress progress,
            Start start,
            Resume resume,
            int chunk) {
        if (start.until()
                .filter(until -> trials.size() != 1 || !trials.get(0).isLiveUntil(until))
                .isPresent()) {
            throw new IllegalArgumentException("only the policies in force can start at a snapshot");
        }
        List<Stretch> stretches = Stretch.ofNewestLog(history).stream()
                .map(stretch -> start.cut(history, stretch))
                .toList();
        if (stretches.isEmpty()) {
            throw new HistoryException("the history in " + history.directory().root()
                    + " has no log yet: a server writes one from its first minutes on");
        }
        long all = stretches.stream().mapToLong(Stretch::records).sum();
        Shared shared = new Shared(progress, all);
        Queue<Stretch> waiting = new ConcurrentLinkedQueue<>(stretches);
        ExecutorService workers = Executors.newFixedThreadPool(threads);
        try {
            List<Future<List<SiteDecided>>> running = IntStream.range(0, Math.min(threads, stretches.size()))
                    .mapToObj(worker ->
                            workers.submit(() -> work(history, waiting, trials, start, resume, chunk, shared)))
                    .toList();
            List<SiteDecided> sites = new ArrayList<>();
            for (Future<List<SiteDecided>> worker : running) {
                sites.addAll(worker.get());
            }
            return Decided.of(sites, all);
        } catch (ExecutionException e) {
            if (e.getCause() instanceof RuntimeException failure) {
                throw failure;
            }
            throw new IllegalStateException(e.getCause());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted", e);
        } finally {
            shared.stop();
            workers.shutdownNow();
            await(workers);
        }
    }

    /** Others stop at their next chunk, and keep what they have. */
    private static void await(ExecutorService workers) {
        try {
            workers.awaitTermination(CLOSE_SECONDS, TimeUnit.SECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** One thread: a database of its own, and partitions until there are no more. */
    private static List<SiteDecided> work(
            History history,
            Queue<Stretch> waiting,
            List<Trial> trials,
            Start start,
            Resume resume,
            int chunk,
            Advance advance) {
        List<SiteDecided> sites = new ArrayList<>();
        try (Duck duck = history.another(MEMORY_MEGABYTES, 1, View.PACKS, View.RECORDS)) {
            for (Stretch stretch = waiting.poll(); stretch != null; stretch = waiting.poll()) {
                sites.addAll(new PartitionRun(duck, stretch, trials, start, resume, chunk).run(advance));
            }
        }
        return sites;
    }

    private static final class Shared implements Advance {
        private final Progress progress;
        private final long all;
        private long done;
        private boolean isStopped;

        Shared(Progress progress, long all) {
            this.progress = progress;
            this.all = all;
        }

        /** After it has failed or was stopped in one thread. */
        synchronized void stop() {
            isStopped = true;
        }

        @Override
        public synchronized void kept(long records) {
            progress.kept(records);
            by(records);
        }

        @Override
        public synchronized void by(long records) {
            if (isStopped) {
                throw new CancellationException();
            }
            done += records;
            progress.at(done, all);
        }
    }

    /** Told how many more records are through. */
    interface Advance {
        void by(long records);

        /** The same of what an earlier run has done. */
        void kept(long records);
    }
}
