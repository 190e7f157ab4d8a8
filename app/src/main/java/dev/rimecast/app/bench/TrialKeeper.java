package dev.rimecast.app.bench;

import dev.rimecast.dashboard.bench.Progress;
import dev.rimecast.dashboard.bench.Trial;
import dev.rimecast.history.query.History;
import dev.rimecast.history.trial.TrialPolicy;
import dev.rimecast.history.trial.TrialResult;
import dev.rimecast.history.trial.TrialRun;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Lets the trial that runs decide what is new in the history, from one thread. It pauses nineteen times as long as it worked, so
 * that it takes at most a twentieth of a core once it has gone through what was before.
 */
final class TrialKeeper implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(TrialKeeper.class);
    private static final int MEMORY_MEGABYTES = 96;
    private static final int PAUSES = 19;
    private static final long SHORTEST_MILLIS = 30_000;
    private static final long LONGEST_MILLIS = 3_600_000;
    private static final long CLOSE_LIMIT_MILLIS = 8_000;

    private final Path history;
    private final Path directory;
    private final Supplier<Optional<TrialPolicy>> running;
    private final Semaphore news = new Semaphore(0);
    private final Thread thread = new Thread(this::work, "trial");
    private volatile boolean stopping;
    private volatile State state = State.NOTHING;
    /** How the history was when the trial went on last: without news there is nothing to decide. */
    private long seen = -1;

    /**
     * What is known of the trial that runs.
     *
     * @param id 0 for none
     */
    private record State(int id, Optional<TrialResult> result, Optional<String> problem, Optional<Pace> pace) {
        static final State NOTHING = new State(0, Optional.empty(), Optional.empty(), Optional.empty());
    }

    /**
     * A keeper that {@link #start} starts.
     *
     * @param history its directory
     * @param directory for files of the trial
     * @param running asked before each pass
     */
    TrialKeeper(Path history, Path directory, Supplier<Optional<TrialPolicy>> running) {
        this.history = history;
        this.directory = directory;
        this.running = running;
    }

    void start() {
        thread.setDaemon(true);
        thread.start();
    }

    /** A trial has begun or ended. */
    void wake() {
        news.release();
    }

    Optional<Trial.Result> result(int id) {
        State now = state;
        return now.id() == id ? now.result().map(Shapes::result) : Optional.empty();
    }

    Optional<String> problem(int id) {
        State now = state;
        return now.id() == id ? now.problem() : Optional.empty();
    }

    /** Only of a first pass, which takes long. */
    Optional<Progress> progress(int id) {
        State now = state;
        return now.id() == id && now.result().isEmpty() ? now.pace().flatMap(Pace::progress) : Optional.empty();
    }

    private void work() {
        try {
            while (!stopping) {
                // What was before is gone through once; only what comes again and again is weighed.
                boolean isFirst = state.result().isEmpty();
                long begun = System.nanoTime();
                pass();
                long worked = isFirst ? 0 : (System.nanoTime() - begun) / 1_000_000;
                long pause = Math.max(SHORTEST_MILLIS, Math.min(LONGEST_MILLIS, worked * PAUSES));
                if (news.tryAcquire(pause, TimeUnit.MILLISECONDS)) {
                    news.drainPermits();
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void pass() {
        try {
            Optional<TrialPolicy> trial = running.get();
            if (trial.isEmpty()) {
                if (state.id() != 0) {
                    TrialRun.clear(directory);
                }
                state = State.NOTHING;
                return;
            }
            advance(trial.get());
        } catch (Pace.Stopped stopped) {
            LOG.debug("the trial goes on at the next start");
        } catch (RuntimeException e) {
            waits(String.valueOf(e.getMessage()));
            LOG.warn("the trial waits: {}", e.toString());
        } catch (Error e) {
            // Also where the database of the history has no program for this machine.
            waits("has ended: " + e);
            LOG.error("the trial no longer goes on", e);
            stopping = true;
        }
    }

    private void waits(String why) {
        State now = state;
        state = new State(now.id(), now.result(), Optional.of(why), Optional.empty());
    }

    private void advance(TrialPolicy trial) {
        int id = trial.id();
        Pace pace = new Pace(System::nanoTime, () -> !stopping);
        Optional<TrialResult> before = state.id() == id ? state.result() : Optional.empty();
        state = new State(id, before, Optional.empty(), Optional.of(pace));
        try (History past = History.open(history, MEMORY_MEGABYTES, false)) {
            long generation = past.manifest().generation();
            boolean isNews = before.isEmpty() || generation != seen;
            TrialResult result = isNews ? new TrialRun(directory, trial).advance(past, pace) : before.get();
            seen = generation;
            state = new State(id, Optional.of(result), Optional.empty(), Optional.empty());
        }
    }

    @Override
    public void close() {
        stopping = true;
        news.release();
        try {
            thread.join(CLOSE_LIMIT_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
