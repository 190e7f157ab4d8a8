package dev.rimecast.app.bench;

import dev.rimecast.dashboard.bench.Run;
import dev.rimecast.dashboard.bench.Sheet;
import dev.rimecast.history.query.History;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Questions to the past, one after the other, on one thread. The last few and their answers are kept until the process ends.
 */
final class RunDesk implements AutoCloseable {
    static final int MOST_WAITING = 4;

    private static final Logger LOG = LoggerFactory.getLogger(RunDesk.class);
    private static final int KEPT = 12;
    private static final int MEMORY_MEGABYTES = 128;

    private final Path history;
    private final ExecutorService worker = Executors.newSingleThreadExecutor(task -> {
        Thread thread = new Thread(task, "back-test");
        thread.setDaemon(true);
        return thread;
    });
    private final Deque<Job> jobs = new ArrayDeque<>();
    private int last;

    RunDesk(Path history) {
        this.history = history;
    }

    /** What is done with the history; fills the answer in. */
    interface Work {
        Run done(Run asked, History past, Pace pace);
    }

    private static final class Job {
        private final Work work;
        private volatile Run run;
        private volatile boolean isWanted = true;
        private volatile Optional<Pace> pace = Optional.empty();

        Job(Run run, Work work) {
            this.run = run;
            this.work = work;
        }

        Run look() {
            Run now = run;
            return now.state().equals("running")
                    ? with(now, "running", now.problem(), pace.flatMap(Pace::progress))
                    : now;
        }

        boolean isOpen() {
            return run.state().equals("waiting") || run.state().equals("running");
        }
    }

    /** Empty where too many wait already. */
    synchronized Optional<Run> ask(
            String kind, String by, Instant at, int base, int days, List<Sheet.Change> changes, Work work) {
        if (jobs.stream().filter(Job::isOpen).count() >= MOST_WAITING) {
            return Optional.empty();
        }
        Job job = new Job(
                new Run(
                        ++last,
                        kind,
                        "waiting",
                        by,
                        at,
                        base,
                        days,
                        changes,
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty()),
                work);
        jobs.addFirst(job);
        while (jobs.size() > KEPT) {
            jobs.removeLast();
        }
        worker.execute(() -> work(job));
        return Optional.of(job.look());
    }

    private void work(Job job) {
        Run asked = job.run;
        if (!job.isWanted) {
            return;
        }
        Pace pace = new Pace(System::nanoTime, () -> job.isWanted);
        job.pace = Optional.of(pace);
        job.run = with(asked, "running", Optional.empty(), Optional.empty());
        try (History past = History.open(history, MEMORY_MEGABYTES, false)) {
            Run done = job.work.done(asked, past, pace);
            job.run = with(done, "done", Optional.empty(), Optional.empty());
        } catch (Pace.Stopped stopped) {
            job.run = with(asked, "cancelled", Optional.empty(), Optional.empty());
        } catch (RuntimeException e) {
            LOG.warn("a question to the past failed", e);
            job.run = with(asked, "failed", Optional.of(String.valueOf(e.getMessage())), Optional.empty());
        }
    }

    private static Run with(
            Run run, String state, Optional<String> problem, Optional<dev.rimecast.dashboard.bench.Progress> progress) {
        return new Run(
                run.id(),
                run.kind(),
                state,
                run.by(),
                run.askedAt(),
                run.base(),
                run.days(),
                run.changes(),
                problem,
                progress,
                run.backTest(),
                run.sweep());
    }

    synchronized List<Run> all() {
        List<Run> all = new ArrayList<>();
        jobs.forEach(job -> all.add(job.look()));
        return all;
    }

    synchronized Optional<Run> one(int id) {
        return jobs.stream().map(Job::look).filter(run -> run.id() == id).findFirst();
    }

    synchronized boolean cancel(int id) {
        Optional<Job> job = jobs.stream()
                .filter(each -> each.run.id() == id && each.isOpen())
                .findFirst();
        job.ifPresent(each -> {
            each.isWanted = false;
            if (each.run.state().equals("waiting")) {
                each.run = with(each.run, "cancelled", Optional.empty(), Optional.empty());
            }
        });
        return job.isPresent();
    }

    @Override
    public synchronized void close() {
        jobs.forEach(job -> job.isWanted = false);
        worker.shutdown();
    }
}
