package dev.rimecast.alerts;

import dev.rimecast.alerts.keep.Retention;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.outbox.NoticeStage;
import dev.rimecast.alerts.register.RegisterImport;
import dev.rimecast.alerts.register.SiteEvents;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.store.CaseStore;
import dev.rimecast.alerts.store.CycleStore;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.DatabaseLogin;
import dev.rimecast.alerts.store.FindingStore;
import dev.rimecast.alerts.store.HoldPass;
import dev.rimecast.alerts.store.PriorityPass;
import dev.rimecast.alerts.store.RetentionPass;
import dev.rimecast.alerts.store.SiteLocks;
import dev.rimecast.alerts.store.SiteLogStore;
import dev.rimecast.alerts.store.StoredActions;
import dev.rimecast.alerts.store.StoredViews;
import dev.rimecast.alerts.view.Actions;
import dev.rimecast.alerts.view.Notices;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Register;
import java.time.Instant;
import java.util.List;

/**
 * The stage for time that is simulated or recorded: whoever has it says what has come and what time it is, and everything is
 * done then, by the same stores, passes and notices as in {@link AlertsStage}. No Kafka, no thread, no wall clock; nothing
 * reaches the sites' logs. Used by one thread.
 */
public final class AlertsInSteps implements AutoCloseable {
    private static final int POOL_SIZE = 4;

    private final Database database;
    private final BooksInForce books = new BooksInForce();
    private final FindingStore findings = new FindingStore(books);
    private final SiteLogStore log = new SiteLogStore();
    private final HoldPass holds;
    private final PriorityPass priorities;
    private final RetentionPass retention;
    private final Views views;
    private final Actions actions;
    private final SiteEvents events;
    private final RegisterImport register;
    private final NoticeStage notices;
    private Instant now;

    private AlertsInSteps(Database database, NoticeBook whom, Instant from) {
        this.database = database;
        this.now = from;
        this.holds = new HoldPass(database, books);
        this.priorities = new PriorityPass(database, books);
        this.retention = new RetentionPass(database, Retention.STANDARD);
        this.views = new StoredViews(database, books);
        this.actions = new StoredActions(database, () -> now, books, changes -> {});
        this.events = new SiteEvents(database, new CaseStore(books), () -> now, () -> {}, changes -> {});
        this.register = new RegisterImport(database, () -> now, () -> {});
        this.notices = NoticeStage.inSteps(database, whom, books, views, () -> now);
    }

    /**
     * Brings the schema level.
     *
     * @param whom who is told; sent is what its channels send
     * @param from what time it is
     */
    public static AlertsInSteps open(DatabaseLogin login, NoticeBook whom, Instant from) {
        Database database = Database.open(login, POOL_SIZE);
        try {
            return new AlertsInSteps(database, whom, from);
        } catch (RuntimeException e) {
            database.close();
            throw e;
        }
    }

    /** What has come until now, each list in the order in which it came. */
    public record News(List<SiteLogStore.Entry> log, List<Cycle> cycles, List<Finding> findings) {
        public News {
            log = List.copyOf(log);
            cycles = List.copyOf(cycles);
            findings = List.copyOf(findings);
        }
    }

    /** It is that late now, and this has come. */
    public void take(Instant at, News news) {
        now = at;
        database.jdbi().useTransaction(handle -> {
            SiteLocks.take(
                    handle,
                    news.findings().stream().map(Finding::site).distinct().toList());
            log.add(handle, news.log());
            CycleStore.write(handle, news.cycles());
            news.findings().forEach(finding -> findings.receive(handle, finding, at));
        });
    }

    /** What changes by itself, and what people are told of it. */
    public void look() {
        holds.run(now);
        priorities.run(now);
        retention.run(now);
        notices.look();
    }

    public void register(Register machines, String policyVersion, String policyYaml) {
        register.apply(machines, policyVersion, policyYaml);
    }

    public Views views() {
        return views;
    }

    public Actions actions() {
        return actions;
    }

    public SiteEvents events() {
        return events;
    }

    public Notices notices() {
        return notices.notices();
    }

    @Override
    public void close() {
        notices.close();
        database.close();
    }
}
