package dev.rimecast.alerts.keep;

import dev.rimecast.alerts.view.Changes.Change;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Looks once a second, and at once when woken, at what changes by itself. A look that fails is made again; each look
 * takes the database as it finds it, so one that is missed costs a second and nothing else.
 */
public final class Upkeep implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(Upkeep.class);
    private static final long EVERY_MILLIS = 1_000;
    private static final Duration CLOSE_LIMIT = Duration.ofSeconds(5);

    /** One thing to look at. */
    @FunctionalInterface
    public interface Pass {
        /** @return what the pages should look at again */
        Collection<Change> run(Instant now);
    }

    /**
     * A thing to look at.
     *
     * @param name in the log
     * @param isOfEach whether every instance looks at it for itself, or one for all
     */
    public record Named(String name, Pass pass, boolean isOfEach) {
        /** One looks for all. */
        public Named(String name, Pass pass) {
            this(name, pass, false);
        }
    }

    private final List<Named> passes;
    private final Turn turn;
    private final InstantSource clock;
    private final Consumer<Collection<Change>> changed;
    private final Consumer<String> problem;
    private final Semaphore work = new Semaphore(0);
    private final Thread thread = new Thread(this::run, "alerts-upkeep");
    private volatile boolean stopping;

    /**
     * @param passes in the order of running, those of each instance before those of one
     * @param turn what the instances share
     * @param problem told what does not work, an empty text once it works again
     */
    public Upkeep(
            List<Named> passes,
            Turn turn,
            InstantSource clock,
            Consumer<Collection<Change>> changed,
            Consumer<String> problem) {
        this.passes = List.copyOf(passes);
        this.turn = turn;
        this.clock = clock;
        this.changed = changed;
        this.problem = problem;
    }

    public void start() {
        thread.start();
    }

    /** Whether its thread runs. */
    public boolean isAlive() {
        return thread.isAlive();
    }

    /** Something was committed; look at once. */
    public void wake() {
        work.release();
    }

    private void run() {
        try {
            while (!stopping) {
                look();
                if (work.tryAcquire(EVERY_MILLIS, TimeUnit.MILLISECONDS)) {
                    work.drainPermits();
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void look() {
        List<String> wrong = new ArrayList<>();
        look(passes.stream().filter(Named::isOfEach).toList(), wrong);
        try {
            turn.take(
                    () -> look(passes.stream().filter(pass -> !pass.isOfEach()).toList(), wrong));
        } catch (RuntimeException e) {
            if (!stopping) {
                wrong.add(String.valueOf(e.getMessage()));
                LOG.warn("no turn to look, it is tried again: {}", e.toString());
            }
        }
        problem.accept(wrong.isEmpty() ? "" : wrong.get(wrong.size() - 1));
    }

    private void look(List<Named> some, List<String> wrong) {
        for (Named each : some) {
            try {
                changed.accept(each.pass().run(clock.instant()));
            } catch (RuntimeException e) {
                if (!stopping) {
                    wrong.add(String.valueOf(e.getMessage()));
                    LOG.warn("looking at {} failed, it is done again: {}", each.name(), e.toString());
                }
            }
        }
    }

    @Override
    public void close() {
        stopping = true;
        work.release();
        try {
            thread.join(CLOSE_LIMIT.toMillis());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        if (thread.isAlive()) {
            thread.interrupt();
        }
    }
}
