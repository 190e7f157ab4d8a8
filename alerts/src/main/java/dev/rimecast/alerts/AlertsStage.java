package dev.rimecast.alerts;

import dev.rimecast.alerts.advice.CommissioningBook;
import dev.rimecast.alerts.consume.ChangeFeed;
import dev.rimecast.alerts.consume.ChangeRelay;
import dev.rimecast.alerts.consume.StageHealth;
import dev.rimecast.alerts.consume.TopicReaders;
import dev.rimecast.alerts.gateways.GatewayDesk;
import dev.rimecast.alerts.inquiry.StoredInquiries;
import dev.rimecast.alerts.inquiry.StoredSiteChecks;
import dev.rimecast.alerts.keep.Turn;
import dev.rimecast.alerts.keep.Upkeep;
import dev.rimecast.alerts.notice.outbox.LinkMail;
import dev.rimecast.alerts.notice.outbox.NoticeStage;
import dev.rimecast.alerts.people.People;
import dev.rimecast.alerts.register.ClosurePass;
import dev.rimecast.alerts.register.MachineClaims;
import dev.rimecast.alerts.register.OutboxPublisher;
import dev.rimecast.alerts.register.PolicyDesk;
import dev.rimecast.alerts.register.RegisterImport;
import dev.rimecast.alerts.register.SiteEvents;
import dev.rimecast.alerts.register.SiteWork;
import dev.rimecast.alerts.register.StoredClaims;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.rules.RuleDesk;
import dev.rimecast.alerts.rules.RuleStore;
import dev.rimecast.alerts.store.Backlog;
import dev.rimecast.alerts.store.CaseStore;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.DatabaseTurn;
import dev.rimecast.alerts.store.FindingStore;
import dev.rimecast.alerts.store.HoldPass;
import dev.rimecast.alerts.store.PriorityPass;
import dev.rimecast.alerts.store.PriorityTrial;
import dev.rimecast.alerts.store.RetentionPass;
import dev.rimecast.alerts.store.StoredActions;
import dev.rimecast.alerts.store.StoredCalendarLinks;
import dev.rimecast.alerts.store.StoredCommissioning;
import dev.rimecast.alerts.store.StoredGateways;
import dev.rimecast.alerts.store.StoredIceAhead;
import dev.rimecast.alerts.store.StoredMarks;
import dev.rimecast.alerts.store.StoredPeople;
import dev.rimecast.alerts.store.StoredRules;
import dev.rimecast.alerts.store.StoredViews;
import dev.rimecast.alerts.store.StoredVisits;
import dev.rimecast.alerts.view.Actions;
import dev.rimecast.alerts.view.Changes;
import dev.rimecast.alerts.view.Inquiries;
import dev.rimecast.alerts.view.Marks;
import dev.rimecast.alerts.view.Notices;
import dev.rimecast.alerts.view.SiteChecks;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.alerts.visits.NeedReader;
import dev.rimecast.alerts.visits.VisitDesk;
import dev.rimecast.alerts.visits.VisitMeans;
import dev.rimecast.alerts.visits.VisitPass;
import dev.rimecast.alerts.visits.calendar.CalendarLinks;
import dev.rimecast.alerts.work.Commissioning;
import dev.rimecast.alerts.work.Work;
import dev.rimecast.telemetry.log.Topics;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.Duration;
import java.time.InstantSource;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Supplier;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.Producer;
import org.apache.kafka.clients.producer.ProducerConfig;
import org.apache.kafka.common.serialization.ByteArraySerializer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The whole stage: takes findings, cycles and the sites' logs into the database, answers the pages, writes register,
 * policy and events into the sites' logs.
 */
public final class AlertsStage implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(AlertsStage.class);
    private static final Duration CLIENT_CLOSE = Duration.ofSeconds(3);

    private final Database database;
    private final Admin admin;
    private final Producer<byte[], byte[]> producer;
    private final ChangeFeed changes;
    private final Optional<ChangeRelay> relay;
    private final StageHealth health;
    private final OutboxPublisher publisher;
    private final TopicReaders readers;
    private final Upkeep upkeep;
    private final Views views;
    private final Actions actions;
    private final Inquiries inquiries;
    private final SiteChecks siteChecks;
    private final RegisterImport registerImport;
    private final MachineClaims claims;
    private final PolicyDesk policies;
    private final SiteEvents siteEvents;
    private final Work work;
    private final Commissioning commissioning;
    private final Marks marks;
    private final People people;
    private final GatewayDesk gateways;
    private final Optional<NoticeStage> notices;
    private final BooksInForce books;
    private final RuleDesk rules;
    private final VisitDesk visits;
    private final CalendarLinks calendars;

    private AlertsStage(AlertsSettings settings, InstantSource clock, MeterRegistry meters, Database database) {
        RuleStore ruleStore = new StoredRules(database);
        this.books = new BooksInForce();
        books.refresh(ruleStore);
        this.database = database;
        this.admin = Admin.create(new HashMap<>(settings.kafka()));
        this.producer = producer(settings.kafka());
        Optional<ChangeRelay.Relayed> relayed =
                settings.isOneOfSeveral() ? Optional.of(ChangeRelay.start(database)) : Optional.empty();
        this.changes = relayed.map(ChangeRelay.Relayed::feed).orElseGet(ChangeFeed::new);
        this.relay = relayed.map(ChangeRelay.Relayed::relay);
        this.health = new StageHealth();
        this.publisher = new OutboxPublisher(database, producer, problem -> say("outbox", problem));
        this.views = new StoredViews(database, books);
        this.actions = new StoredActions(database, clock, books, changes::publish);
        this.inquiries = new StoredInquiries(
                database,
                views,
                actions,
                settings.siteLinkLasts(),
                settings.notices().map(LinkMail::new),
                clock,
                publisher::wake,
                changes::publish);
        this.siteChecks = new StoredSiteChecks(database, views, books, clock, publisher::wake, changes::publish);
        this.registerImport = new RegisterImport(database, clock, publisher::wake);
        this.claims = new StoredClaims(database, clock, publisher::wake, changes::publish);
        this.policies = new PolicyDesk(database, clock, publisher::wake);
        this.siteEvents = new SiteEvents(database, new CaseStore(books), clock, publisher::wake, changes::publish);
        this.work = new SiteWork(database, siteEvents, new CaseStore(books), clock, publisher::wake, changes::publish);
        this.commissioning = new StoredCommissioning(database, CommissioningBook.standard(), clock);
        this.marks = new StoredMarks(database, clock);
        this.people = People.of(new StoredPeople(database), settings.secondFactor(), InstantSource.system());
        this.gateways = new GatewayDesk(new StoredGateways(database, publisher::wake), InstantSource.system());
        this.readers = TopicReaders.start(
                settings.kafka(), admin, producer, database, new FindingStore(books), changes, clock, health, meters);
        StoredVisits visitStore = new StoredVisits(database);
        // One that plans alone knows what it has found.
        this.visits = visitDesk(
                settings.visits(),
                visitStore,
                clock,
                settings.isOneOfSeveral() ? () -> VisitPass.at(clock.instant(), visitStore.mark()) : () -> "");
        this.calendars = new CalendarLinks(new StoredCalendarLinks(database), visits, people.entrance()::seeing, clock);
        VisitPass visitPass = new VisitPass(visits::plan, visitStore::mark, System::nanoTime);
        Backlog backlog = new Backlog(database, meters, System::nanoTime);
        this.upkeep = new Upkeep(
                List.of(
                        new Upkeep.Named(
                                "rules",
                                now -> {
                                    books.refresh(ruleStore);
                                    return List.of();
                                },
                                true),
                        new Upkeep.Named(
                                "backlog",
                                now -> {
                                    backlog.look(now);
                                    return List.of();
                                },
                                true),
                        new Upkeep.Named("closures", new ClosurePass(database, siteEvents)::run),
                        new Upkeep.Named("holds", new HoldPass(database, books)::run),
                        new Upkeep.Named("priorities", new PriorityPass(database, books)::run),
                        new Upkeep.Named("retention", new RetentionPass(database, settings.retention())::run),
                        new Upkeep.Named("visits", now -> {
                            visitPass.run(now);
                            return List.of();
                        })),
                turn(settings, "upkeep"),
                clock,
                changes::publish,
                problem -> say("upkeep", problem));
        this.notices = settings.notices()
                .map(whom -> new NoticeStage(
                        database,
                        whom,
                        books,
                        views,
                        visits::toOrder,
                        turn(settings, "notices"),
                        clock,
                        meters,
                        problem -> say("notices", problem)));
        this.rules = new RuleDesk(ruleStore, books, new PriorityTrial(database, clock), clock, upkeep::wake);
        publisher.start();
        upkeep.start();
        notices.ifPresent(NoticeStage::start);
    }

    /**
     * Brings the schema level and starts every thread. Kafka need not be there yet, the topics neither.
     *
     * @param clock the wall, or the demo's
     * @throws RuntimeException if the database can't be reached
     */
    public static AlertsStage start(AlertsSettings settings, InstantSource clock, MeterRegistry meters) {
        Database database = Database.open(settings.database(), settings.poolSize(), meters);
        try {
            return new AlertsStage(settings, clock, meters, database);
        } catch (RuntimeException e) {
            database.close();
            throw e;
        }
    }

    private Turn turn(AlertsSettings settings, String what) {
        return settings.isOneOfSeveral() ? new DatabaseTurn(database, what) : Turn.ALWAYS;
    }

    private VisitDesk visitDesk(VisitMeans means, StoredVisits store, InstantSource clock, Supplier<String> mark) {
        for (String part : means.parts().unknown(books.advice().parts())) {
            LOG.warn("fleet.parts, {}: no advice names this part, so it holds back no visit", part);
        }
        return new VisitDesk(
                store,
                views::sites,
                new NeedReader(views, books, means.parts(), means.settings()),
                means.team(),
                means.parts().isKnown(),
                means.settings(),
                new StoredIceAhead(database),
                clock,
                mark,
                changes::publish);
    }

    /** Who goes to which site, and when. */
    public Visits visits() {
        return visits;
    }

    /** Links by which calendar programs read visits. */
    public CalendarLinks calendars() {
        return calendars;
    }

    public Views views() {
        return views;
    }

    public Actions actions() {
        return actions;
    }

    public Inquiries inquiries() {
        return inquiries;
    }

    /** What links of sites open. */
    public SiteChecks siteChecks() {
        return siteChecks;
    }

    public Changes changes() {
        return changes;
    }

    public Notices notices() {
        return notices.map(NoticeStage::notices).orElse(Notices.NONE);
    }

    public RegisterImport registerImport() {
        return registerImport;
    }

    /**
     * Waits until the register is in Kafka as it is now, where ingest reads it.
     *
     * @return whether it is
     */
    public boolean awaitRegisterTold(Duration limit) throws InterruptedException {
        return publisher.awaitPublished(Topics.REGISTRY, limit);
    }

    /** Machines that people put into the register. */
    public MachineClaims claims() {
        return claims;
    }

    /** Policies of detection, in force and on trial. */
    public PolicyDesk policies() {
        return policies;
    }

    public SiteEvents siteEvents() {
        return siteEvents;
    }

    /** Reports of work. */
    public Work work() {
        return work;
    }

    /** Records of commissioning. */
    public Commissioning commissioning() {
        return commissioning;
    }

    /** What analysts say of machines' past. */
    public Marks marks() {
        return marks;
    }

    /** Accounts, sessions and tokens; they live by the real time, whatever the stage's clock says. */
    public People people() {
        return people;
    }

    /** The keys of gateways; they live by the real time, too. */
    public GatewayDesk gateways() {
        return gateways;
    }

    /** The firm's own books of rules. */
    public RuleDesk rules() {
        return rules;
    }

    /** Whether every thread runs; one that has ended takes a restart of the process. */
    public boolean isAlive() {
        return readers.areAlive()
                && publisher.isAlive()
                && upkeep.isAlive()
                && notices.map(NoticeStage::isAlive).orElse(true)
                && relay.map(ChangeRelay::isAlive).orElse(true);
    }

    /** Asks the database as well, so it may take as long as a connection does. */
    public AlertsHealth health() {
        Map<String, String> problems = new TreeMap<>(health.problems());
        String unreadable = books.problem();
        if (!unreadable.isEmpty()) {
            problems.put("rules", unreadable);
        }
        if (!database.answers()) {
            problems.put("database", "does not answer");
        }
        return new AlertsHealth(problems);
    }

    private void say(String part, String problem) {
        if (problem.isEmpty()) {
            health.works(part);
        } else {
            health.fails(part, problem);
        }
    }

    private static Producer<byte[], byte[]> producer(Map<String, String> kafka) {
        Map<String, Object> config = new HashMap<>(kafka);
        config.remove("group.instance.id");
        config.put(ProducerConfig.ACKS_CONFIG, "all");
        config.put(ProducerConfig.ENABLE_IDEMPOTENCE_CONFIG, true);
        config.put(ProducerConfig.MAX_BLOCK_MS_CONFIG, 5_000);
        // An unknown outcome is sent again, and receivers bear repeats: better soon than after the default two minutes.
        config.put(ProducerConfig.REQUEST_TIMEOUT_MS_CONFIG, 10_000);
        config.put(ProducerConfig.DELIVERY_TIMEOUT_MS_CONFIG, 30_000);
        config.put(ProducerConfig.CLIENT_ID_CONFIG, "alerts");
        return new KafkaProducer<>(config, new ByteArraySerializer(), new ByteArraySerializer());
    }

    /** Stops reading first; what was committed stays, the rest is read again at the next start. */
    @Override
    public void close() {
        readers.close();
        notices.ifPresent(NoticeStage::close);
        upkeep.close();
        publisher.close();
        relay.ifPresent(ChangeRelay::close);
        changes.close();
        producer.close(CLIENT_CLOSE);
        admin.close(CLIENT_CLOSE);
        database.close();
    }
}
