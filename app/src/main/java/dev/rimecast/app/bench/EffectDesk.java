package dev.rimecast.app.bench;

import dev.rimecast.alerts.view.Mark;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.dashboard.bench.Effect;
import dev.rimecast.history.backtest.Start;
import dev.rimecast.history.effect.ReadyPast;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.query.History;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Comparator;
import java.util.Deque;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CancellationException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.RejectedExecutionException;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * What a slider does to the last months, as it moves. The readings are gone through once for the policy in force, and once a day, on a thread
 * of their own; then other numbers are decided a site at a time on another. One question of a person at a time: the newest ends the one
 * before. Questions of several people go by turns, a site each.
 */
final class EffectDesk implements AutoCloseable {
    static final int DAYS = 90;
    private static final Logger LOG = LoggerFactory.getLogger(EffectDesk.class);
    private static final Duration FRESH = Duration.ofDays(1);
    /** How often it is asked whether it is that old. */
    private static final Duration CHECKED = Duration.ofMinutes(10);

    private static final Duration CHEAP = Duration.ofSeconds(10);

    private static final int KEPT = 16;
    private static final int MEMORY_MEGABYTES = 128;
    private static final String FAILED =
            "It could not be answered, and not because of what was asked: the log of the server says why.";

    private final Path history;
    private final Path root;
    private final Supplier<List<Mark>> marks;
    private final ExecutorService preparing = Executors.newSingleThreadExecutor(task -> daemon(task, "effect-ready"));
    private final ExecutorService playing = Executors.newSingleThreadExecutor(task -> daemon(task, "effect"));
    private final Deque<EffectJob> jobs = new ArrayDeque<>();
    private Optional<ReadyPast> ready = Optional.empty();
    /** What is being prepared, and how far it is. */
    private Optional<Preparing> under = Optional.empty();

    /** That broke, and when: it is not tried again at once. */
    private Optional<Broken> broken = Optional.empty();

    private long checkedAt;
    private int last;
    private volatile boolean isClosed;

    private record Preparing(Policy policy, Pace pace) {}

    private record Broken(Policy policy, String problem, long nanos) {}

    /** @param root of these only; what an earlier process has left there goes */
    EffectDesk(Path history, Path root, Supplier<List<Mark>> marks) {
        this.history = history;
        this.root = root;
        this.marks = marks;
        preparing.execute(this::empty);
    }

    private static Thread daemon(Runnable task, String name) {
        Thread thread = new Thread(task, name);
        thread.setDaemon(true);
        return thread;
    }

    /** Begins, and ends what the same person asked before. */
    synchronized Effect ask(Policy inForce, Map<String, Double> changes, String who) {
        jobs.stream().filter(job -> job.who().equals(who)).forEach(EffectJob::end);
        jobs.removeIf(job -> job.who().equals(who));
        EffectJob job = new EffectJob(++last, who, inForce, changes);
        jobs.addFirst(job);
        while (jobs.size() > KEPT) {
            EffectJob oldest = oldest();
            oldest.end();
            jobs.remove(oldest);
        }
        boolean isOfIt = ready.filter(past -> isOf(past, inForce)).isPresent();
        if (isOfIt) {
            step(job, ready.orElseThrow());
        }
        Optional<Broken> before = broken.filter(each -> isStanding(each, inForce));
        if (!isOfIt && before.isPresent()) {
            job.fail(before.get().problem());
        } else {
            prepare(inForce, !isOfIt);
        }
        return look(job);
    }

    private static boolean isStanding(Broken problem, Policy policy) {
        return problem.policy().yaml().equals(policy.yaml()) && System.nanoTime() - problem.nanos() < CHECKED.toNanos();
    }

    /** One that is over, where there is one. */
    private EffectJob oldest() {
        Iterator<EffectJob> back = jobs.descendingIterator();
        while (back.hasNext()) {
            EffectJob job = back.next();
            if (!job.isOpen()) {
                return job;
            }
        }
        return jobs.getLast();
    }

    /** Empty also where the same person has asked something else since. */
    synchronized Optional<Effect> effect(int id) {
        return jobs.stream().filter(job -> job.id() == id).findFirst().map(this::look);
    }

    private Effect look(EffectJob job) {
        Effect effect = job.look();
        return effect.state().equals("preparing")
                ? effect.at(under.flatMap(each -> each.pace().progress()))
                : effect;
    }

    private static boolean isOf(ReadyPast past, Policy policy) {
        return past.policy().yaml().equals(policy.yaml());
    }

    private synchronized boolean isReady(ReadyPast past) {
        return ready.filter(each -> each == past).isPresent();
    }

    private void step(EffectJob job, ReadyPast past) {
        try {
            playing.execute(() -> {
                // a step of a past that was made anew meanwhile is that of a closed one
                if (isClosed || !job.isWanted() || !isReady(past)) {
                    job.restart();
                    return;
                }
                try {
                    if (job.step(past, history, marks)) {
                        step(job, past);
                    }
                } catch (CancellationException ended) {
                    job.end();
                } catch (HistoryException e) {
                    job.fail(String.valueOf(e.getMessage()));
                } catch (RuntimeException | Error e) {
                    LOG.warn("the effect of numbers could not be reckoned", e);
                    job.fail(FAILED);
                    rethrow(e);
                }
            });
        } catch (RejectedExecutionException closed) {
            job.end();
        }
    }

    /** Where there is none of this policy, or it is a day old. */
    private void prepare(Policy policy, boolean isMissing) {
        if (under.filter(each -> each.policy().yaml().equals(policy.yaml())).isPresent()
                || !isMissing && System.nanoTime() - checkedAt < CHECKED.toNanos()) {
            return;
        }
        checkedAt = System.nanoTime();
        // what was prepared for numbers that are no longer in force is given up
        Preparing[] own = new Preparing[1];
        Preparing next = new Preparing(policy, new Pace(System::nanoTime, () -> !isClosed && isUnder(own[0])));
        own[0] = next;
        if (isMissing) {
            under = Optional.of(next);
        }
        Optional<ReadyPast> old = ready;
        preparing.execute(() -> {
            if (isMissing || old.filter(this::isOld).isPresent()) {
                begin(next);
                work(next);
            }
        });
    }

    private synchronized void begin(Preparing next) {
        if (under.isEmpty()) {
            under = Optional.of(next);
        }
    }

    private synchronized boolean isUnder(Preparing which) {
        return under.filter(each -> each == which).isPresent();
    }

    private boolean isOld(ReadyPast past) {
        try (History now = History.open(history, MEMORY_MEGABYTES, false)) {
            return Start.newestMinute(now)
                    .filter(newest -> Duration.between(past.newest(), newest).compareTo(FRESH) >= 0)
                    .isPresent();
        } catch (HistoryException none) {
            return false;
        }
    }

    private void work(Preparing which) {
        if (!isUnder(which)) {
            return;
        }
        long began = System.nanoTime();
        try (History past = History.open(history, MEMORY_MEGABYTES, false)) {
            hand(which, ReadyPast.of(past, which.policy(), DAYS, emptied(directory()), 1, which.pace()));
        } catch (Pace.Stopped | RejectedExecutionException stopped) {
            done(which, "");
        } catch (HistoryException e) {
            // what is told at once may be asked again at once
            if (System.nanoTime() - began < CHEAP.toNanos()) {
                done(which, String.valueOf(e.getMessage()));
            } else {
                broke(which, String.valueOf(e.getMessage()));
            }
        } catch (RuntimeException | Error e) {
            LOG.warn("the last months could not be made ready", e);
            broke(which, FAILED);
            rethrow(e);
        }
    }

    private synchronized void broke(Preparing which, String problem) {
        broken = Optional.of(new Broken(which.policy(), problem, System.nanoTime()));
        done(which, problem);
    }

    private void hand(Preparing which, ReadyPast made) {
        try {
            playing.execute(() -> take(which, made));
        } catch (RejectedExecutionException closed) {
            made.close();
            throw closed;
        }
    }

    /** Out of memory is told to who asked, and is no less an error. */
    private static void rethrow(Throwable problem) {
        if (problem instanceof Error) {
            throw (Error) problem;
        }
    }

    /** On the thread that plays, so that nothing is read of the old one meanwhile. */
    private synchronized void take(Preparing which, ReadyPast made) {
        if (!isUnder(which)) {
            made.close();
            return;
        }
        under = Optional.empty();
        ready.ifPresent(ReadyPast::close);
        ready = Optional.of(made);
        for (EffectJob job : List.copyOf(jobs)) {
            if (job.isDone()) {
                continue;
            }
            if (job.isWanted() && isOf(made, job.inForce())) {
                job.restart();
                step(job, made);
            } else {
                job.end();
            }
        }
    }

    private synchronized void done(Preparing which, String problem) {
        if (!isUnder(which)) {
            return;
        }
        under = Optional.empty();
        if (!problem.isEmpty()) {
            LOG.warn("the last months could not be made ready: {}", problem);
            jobs.stream().filter(job -> job.look().state().equals("preparing")).forEach(job -> job.fail(problem));
        }
    }

    /** Directories of those that were closed, which have no files any more, go with the next. */
    private Path emptied(Path next) {
        try (Stream<Path> all = Files.list(root)) {
            for (Path each : all.filter(path -> !path.equals(next)).toList()) {
                if (isEmpty(each)) {
                    Files.delete(each);
                }
            }
        } catch (IOException e) {
            LOG.warn("what was left in {} could not be deleted: {}", root, e.getMessage());
        }
        return next;
    }

    private static boolean isEmpty(Path directory) throws IOException {
        try (Stream<Path> files = Files.list(directory)) {
            return files.findAny().isEmpty();
        }
    }

    private Path directory() {
        try {
            return Files.createTempDirectory(Files.createDirectories(root), "ready-");
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private void empty() {
        if (!Files.isDirectory(root)) {
            return;
        }
        try (Stream<Path> left = Files.walk(root)) {
            for (Path path : left.sorted(Comparator.reverseOrder()).toList()) {
                Files.delete(path);
            }
        } catch (IOException e) {
            LOG.warn("what was left in {} could not be deleted: {}", root, e.getMessage());
        }
    }

    @Override
    public void close() {
        isClosed = true;
        preparing.shutdown();
        playing.shutdown();
    }
}
