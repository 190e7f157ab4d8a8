package dev.rimecast.app.bench;

import dev.rimecast.dashboard.bench.Asked;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.query.History;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.function.IntFunction;
import java.util.stream.Stream;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Questions to the past, one after the other, on one thread. The last few of each kind and their answers
 * are kept until the process ends.
 */
final class RunDesk implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(RunDesk.class);
    private static final int KEPT = 12;
    private static final String FAILED =
            "It could not be answered, and not because of what was asked: the log of the server says why.";
    private static final int MEMORY_MEGABYTES = 128;

    private final Path history;
    private final ExecutorService worker = Executors.newSingleThreadExecutor(task -> {
        Thread thread = new Thread(task, "back-test");
        thread.setDaemon(true);
        return thread;
    });
    private final Deque<Job<?>> jobs = new ArrayDeque<>();
    private int last;

    RunDesk(Path history) {
        this.history = history;
    }

    /** What is done with the history; fills the answer in. */
    interface Work<A> {
        A done(A asked, History past, Pace pace);
    }

    private static final class Job<A extends Asked<A>> {
        private final Class<A> kind;
        private final Work<A> work;
        private volatile A asked;
        private volatile boolean isWanted = true;
        private volatile Optional<Pace> pace = Optional.empty();

        Job(Class<A> kind, A asked, Work<A> work) {
            this.kind = kind;
            this.asked = asked;
            this.work = work;
        }

        A look() {
            A now = asked;
            return now.state().equals("running")
                    ? now.in("running", Optional.empty(), pace.flatMap(Pace::progress))
                    : now;
        }

        void work(Path history) {
            if (!isWanted) {
                return;
            }
            A wanted = asked;
            Pace told = new Pace(System::nanoTime, () -> isWanted);
            pace = Optional.of(told);
            asked = wanted.in("running", Optional.empty(), Optional.empty());
            try (History past = History.open(history, MEMORY_MEGABYTES, false)) {
                asked = work.done(wanted, past, told).in("done", Optional.empty(), Optional.empty());
            } catch (Pace.Stopped stopped) {
                asked = wanted.in("cancelled", Optional.empty(), Optional.empty());
            } catch (HistoryException e) {
                LOG.warn("a question to the past was not answered: {}", e.getMessage());
                asked = wanted.in("failed", Optional.of(String.valueOf(e.getMessage())), Optional.empty());
            } catch (RuntimeException e) {
                LOG.warn("a question to the past failed", e);
                asked = wanted.in("failed", Optional.of(FAILED), Optional.empty());
            }
        }

        void end() {
            isWanted = false;
            if (asked.state().equals("waiting")) {
                asked = asked.in("cancelled", Optional.empty(), Optional.empty());
            }
        }
    }

    /**
     * Empty where too many of this kind are open already.
     *
     * @param made the question under its number
     */
    synchronized <A extends Asked<A>> Optional<A> ask(Class<A> kind, int most, IntFunction<A> made, Work<A> work) {
        if (of(kind).filter(job -> Asked.isOpen(job.asked)).count() >= most) {
            return Optional.empty();
        }
        Job<A> job = new Job<>(kind, made.apply(++last), work);
        jobs.addFirst(job);
        // each kind by itself: questions of one push none of the other out
        of(kind).skip(KEPT).toList().forEach(jobs::remove);
        worker.execute(() -> job.work(history));
        return Optional.of(job.look());
    }

    @SuppressWarnings("unchecked")
    private <A extends Asked<A>> Stream<Job<A>> of(Class<A> kind) {
        return jobs.stream().filter(job -> job.kind == kind).map(job -> (Job<A>) job);
    }

    /** The newest first. */
    synchronized <A extends Asked<A>> List<A> all(Class<A> kind) {
        return of(kind).map(Job::look).toList();
    }

    synchronized <A extends Asked<A>> boolean cancel(Class<A> kind, int id) {
        Optional<Job<A>> job = of(kind).filter(each -> each.asked.id() == id && Asked.isOpen(each.asked))
                .findFirst();
        job.ifPresent(Job::end);
        return job.isPresent();
    }

    @Override
    public synchronized void close() {
        jobs.forEach(job -> job.isWanted = false);
        worker.shutdown();
    }
}
