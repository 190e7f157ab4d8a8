package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.keep.Turn;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.send.Senders;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.view.Notices;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.alerts.view.VisitView;
import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.concurrent.Executor;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Tells people: takes events in, looks at what is open, writes digests, sends. Each round takes the database as it finds
 * it; one that fails is made again.
 */
public final class NoticeStage implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(NoticeStage.class);
    private static final long IDLE_MILLIS = 500;
    private static final Duration LOOK_EVERY = Duration.ofSeconds(20);
    private static final long CLOSE_LIMIT_MILLIS = 5_000;

    private final Database database;
    private final Turn turn;
    private final InstantSource clock;
    private final Consumer<String> problem;
    private final Senders senders;
    /** Absent where notices are sent by whoever asks for a round. */
    private final Optional<ExecutorService> sending;

    private final Intake intake;
    private final Planner planner;
    private final Digests digests;
    private final Dispatcher dispatcher;
    private final Notices notices;
    private final Semaphore work = new Semaphore(0);
    private final Thread thread = new Thread(this::run, "alerts-notices");
    private Instant looked = Instant.MIN;
    private volatile boolean stopping;

    /** @param problem told what does not work, an empty text once it works again */
    public NoticeStage(
            Database database,
            NoticeBook book,
            BooksInForce books,
            Views views,
            Supplier<List<VisitView>> visits,
            Turn turn,
            InstantSource clock,
            MeterRegistry meters,
            Consumer<String> problem) {
        this(database, book, books, views, visits, turn, clock, meters, problem, Optional.of(senderThreads()));
    }

    private NoticeStage(
            Database database,
            NoticeBook book,
            BooksInForce books,
            Views views,
            Supplier<List<VisitView>> visits,
            Turn turn,
            InstantSource clock,
            MeterRegistry meters,
            Consumer<String> problem,
            Optional<ExecutorService> sending) {
        this.database = database;
        this.turn = turn;
        this.clock = clock;
        this.problem = problem;
        this.senders = new Senders(book);
        this.sending = sending;
        Texts texts = new Texts(views, visits, book.link());
        this.intake = new Intake(database, Checkpoint.NONE);
        this.planner = new Planner(database, book, books, Checkpoint.NONE);
        this.digests = new Digests(database, book, texts, Checkpoint.NONE);
        this.dispatcher = new Dispatcher(
                database,
                book,
                books,
                texts,
                senders::send,
                new Retries(new SplittableRandom()),
                clock,
                sending.<Executor>map(threads -> task -> threads.execute(() -> thenNext(task)))
                        .orElse(Runnable::run),
                Checkpoint.NONE,
                new NoticeMeter(meters));
        this.notices = new StoredNotices(database, book, texts, clock, work::release);
    }

    /** One without threads, for time that is recorded or simulated: {@link #look} does everything, sending too. */
    public static NoticeStage inSteps(
            Database database, NoticeBook book, BooksInForce books, Views views, InstantSource clock) {
        return new NoticeStage(
                database,
                book,
                books,
                views,
                List::of,
                Turn.ALWAYS,
                clock,
                new SimpleMeterRegistry(),
                problem -> {},
                Optional.empty());
    }

    private static ExecutorService senderThreads() {
        return Executors.newCachedThreadPool(task -> {
            Thread sender = new Thread(task, "alerts-notice-sender");
            sender.setDaemon(true);
            return sender;
        });
    }

    public void start() {
        thread.start();
    }

    /** Whether its thread runs. */
    public boolean isAlive() {
        return thread.isAlive();
    }

    public Notices notices() {
        return notices;
    }

    /** Goes on with what is next for whoever is free now: a round may be long while much is news, and would send one notice to each. */
    private void thenNext(Runnable task) {
        try {
            task.run();
            if (!stopping) {
                dispatcher.run();
            }
        } catch (RuntimeException e) {
            LOG.warn("the result of a notice was not written, it goes again: {}", e.toString());
        } finally {
            work.release();
        }
    }

    private void run() {
        try {
            while (!stopping) {
                round();
                if (work.tryAcquire(IDLE_MILLIS, TimeUnit.MILLISECONDS)) {
                    work.drainPermits();
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void round() {
        try {
            look();
        } catch (RuntimeException e) {
            if (!stopping) {
                problem.accept(String.valueOf(e.getMessage()));
                LOG.warn("notices wait, it is done again: {}", e.toString());
            }
        }
    }

    /** One round; by one thread at a time. */
    public void look() {
        Instant now = clock.instant();
        boolean isTime = looked.equals(Instant.MIN) || now.isBefore(looked) || !now.isBefore(looked.plus(LOOK_EVERY));
        turn.take(() -> plan(now, isTime));
        if (isTime) {
            looked = now;
            problem.accept(givenUp(now));
        }
        dispatcher.run();
    }

    /** One instance at a time; each sends what it has claimed. */
    private void plan(Instant now, boolean isTime) {
        boolean isNews = false;
        while (intake.run()) {
            isNews = true;
        }
        if (isNews || isTime) {
            planner.run(now);
            digests.run(now);
        }
    }

    /** Where mail does not arrive, the pages say so. */
    private String givenUp(Instant now) {
        int failed = database.jdbi()
                .withHandle(handle -> handle.createQuery(
                                "select count(*) from notice_delivery where state = 'failed' and ended_at > :since")
                        .bind("since", now.minus(Duration.ofDays(1)))
                        .mapTo(Integer.class)
                        .one());
        return failed == 0 ? "" : failed + " given up in the last day; the page Notices says why";
    }

    @Override
    public void close() {
        stopping = true;
        work.release();
        try {
            thread.join(CLOSE_LIMIT_MILLIS);
            sending.ifPresent(ExecutorService::shutdown);
            senders.close();
            if (sending.isPresent() && !sending.get().awaitTermination(CLOSE_LIMIT_MILLIS, TimeUnit.MILLISECONDS)) {
                sending.get().shutdownNow();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        if (thread.isAlive()) {
            thread.interrupt();
        }
    }
}
