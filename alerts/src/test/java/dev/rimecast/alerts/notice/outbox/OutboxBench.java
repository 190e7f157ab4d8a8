package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.OwnDatabase;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.outbox.Checkpoint.Step;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.store.Backlog;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.StoredViews;
import dev.rimecast.alerts.view.Notices;
import dev.rimecast.alerts.view.Views;
import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.lang.ref.Reference;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;

/** The stage's own database, and a process over it that can end at any step. */
final class OutboxBench implements AutoCloseable {

    /** What ends the process. */
    private static final class Death extends RuntimeException {
        private static final long serialVersionUID = 1L;
    }

    /** What ends it in the midst of sending, where anything else that is thrown is a failed attempt. */
    static final class Killed extends Error {
        private static final long serialVersionUID = 1L;
    }

    private final SimpleMeterRegistry meters = new SimpleMeterRegistry();
    private final OwnDatabase own;
    private final NoticeBook book;
    private final BooksInForce books = new BooksInForce();
    private final InstantSource clock = () -> this.now;
    private final Views views;
    private final World world;
    private final Inboxes inboxes;
    private Instant now = Instant.EPOCH;
    private Optional<Step> deadly = Optional.empty();
    private int deaths;
    private Process process;

    /** What one process has in memory; another one begins with nothing. */
    private record Process(Intake intake, Planner planner, Digests digests, Dispatcher dispatcher, Notices notices) {}

    OutboxBench(NoticeBook book) {
        this.book = book;
        own = new OwnDatabase();
        views = new StoredViews(own.database(), books);
        world = new World(own.database(), books, views, clock);
        inboxes = new Inboxes(book);
        process = process();
    }

    Database database() {
        return own.database();
    }

    Instant now() {
        return now;
    }

    World world() {
        return world;
    }

    /** Attempts by mail and webhook that ended so. */
    double counted(String outcome) {
        return meters.get("rimecast.alerts.notices").tag("outcome", outcome).counters().stream()
                .mapToDouble(Counter::count)
                .sum();
    }

    /** What waits, as a scrape would be told. */
    double backlog(String name, Instant now) {
        SimpleMeterRegistry looked = new SimpleMeterRegistry();
        Backlog backlog = new Backlog(own.database(), looked, System::nanoTime);
        backlog.look(now);
        double value = looked.get("rimecast.alerts." + name).gauges().stream()
                .mapToDouble(Gauge::value)
                .sum();
        Reference.reachabilityFence(backlog);
        return value;
    }

    Inboxes inboxes() {
        return inboxes;
    }

    Wholeness wholeness() {
        return new Wholeness(own.database(), inboxes);
    }

    private Process process() {
        Texts texts = new Texts(views, List::of, book.link());
        return new Process(
                new Intake(own.database(), this::passed),
                new Planner(own.database(), book, books, this::passed),
                new Digests(own.database(), book, texts, this::passed),
                new Dispatcher(
                        own.database(),
                        book,
                        books,
                        texts,
                        inboxes::take,
                        new Retries(new SplittableRandom(1)),
                        clock,
                        Runnable::run,
                        this::passed,
                        new NoticeMeter(meters)),
                new StoredNotices(own.database(), book, texts, clock, () -> {}));
    }

    private void passed(Step step) {
        if (deadly.filter(step::equals).isPresent()) {
            deadly = Optional.empty();
            deaths++;
            throw new Death();
        }
    }

    /** Forgets everything before. */
    void begin(Instant at) {
        own.database().jdbi().useHandle(handle -> {
            // the logs refuse to be emptied, and rightly
            handle.execute("alter table notice_attempt disable trigger user");
            handle.execute("alter table alert_audit disable trigger user");
            handle.execute("alter table case_audit disable trigger user");
            handle.execute("truncate notice_attempt, notice_delivery, notice_matter, notice_digest, proof_look, proof,"
                    + " notice_receiver_closed, alert_event, alert, alert_audit, case_audit, alert_case, finding_revision,"
                    + " site_event cascade");
            handle.execute("alter table notice_attempt enable trigger user");
            handle.execute("alter table alert_audit enable trigger user");
            handle.execute("alter table case_audit enable trigger user");
        });
        now = at;
        inboxes.begin();
        world.begin();
        dieNoMore();
        deaths = 0;
        process = process();
        round();
        inboxes.empty(); // the digest of the day on which it begins
    }

    void pass(Duration time) {
        now = now.plus(time);
    }

    void dieOnceAt(Step step) {
        deadly = Optional.of(step);
    }

    /** No death that was asked for and has not come yet comes any more. */
    void dieNoMore() {
        deadly = Optional.empty();
    }

    boolean died() {
        return deaths > 0;
    }

    /** How often the process ended at a step; what a receiver did to it is not in here. */
    int deaths() {
        return deaths;
    }

    /** One round of the stage, which must not end early. */
    void round() {
        run();
    }

    /** One round; where the process ends, another one begins. */
    void roundOrDie() {
        try {
            run();
        } catch (Death | Killed e) {
            process = process();
        }
    }

    private void run() {
        boolean more = true;
        while (more) {
            more = process.intake().run();
        }
        process.planner().run(now);
        process.digests().run(now);
        process.dispatcher().run();
    }

    Notices notices() {
        return process.notices();
    }

    Views views() {
        return views;
    }

    @Override
    public void close() {
        own.close();
    }
}
