package dev.rimecast.alerts.notice.outbox;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.notice.Channel;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.Receiver;
import dev.rimecast.alerts.notice.outbox.Checkpoint.Step;
import dev.rimecast.alerts.notice.send.Message;
import dev.rimecast.alerts.notice.send.Outcome;
import dev.rimecast.alerts.register.RegisterImport;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.FindingStore;
import dev.rimecast.alerts.store.SiteLocks;
import dev.rimecast.alerts.store.StoredActions;
import dev.rimecast.alerts.store.StoredViews;
import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Notices;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.engines.EmbeddedPostgres;
import dev.rimecast.engines.PostgresSettings;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.UUID;

/** The stage's own database, alerts put in as findings, and receivers in memory. */
final class OutboxBench implements AutoCloseable {
    static final List<ProbableCause> SCALE = List.of(new ProbableCause(Cause.SCALE, 0.7, List.of(), List.of()));

    private static final Person ADA = new Person("ada");
    private static final List<Condition> CONDITIONS =
            List.of(Condition.LONG_FREEZE, Condition.DRAIN_PUMP_OVERRUN, Condition.NOT_MAKING_ICE);

    /** What ends the process. */
    private static final class Death extends RuntimeException {
        private static final long serialVersionUID = 1L;
    }

    private final EmbeddedPostgres postgres;
    private final Database database;
    private final NoticeBook book;
    private final FindingStore findings;
    private final Views views;
    private final StoredActions actions;
    private final InstantSource clock = () -> this.now;
    private final Map<String, List<Message>> inboxes = new HashMap<>();
    private final Map<String, Outcome> answers = new HashMap<>();
    private final Map<UUID, Finding> open = new LinkedHashMap<>();
    private final BooksInForce books = new BooksInForce();
    private Instant now = Instant.EPOCH;
    private Optional<Step> deadly = Optional.empty();
    private boolean hasDied;
    private Process process;

    /** What one process has in memory; another one begins with nothing. */
    private record Process(Intake intake, Planner planner, Digests digests, Dispatcher dispatcher, Notices notices) {}

    OutboxBench(Path directory, NoticeBook book) {
        this.book = book;
        postgres = EmbeddedPostgres.start(directory.resolve("postgres"), PostgresSettings.STANDARD);
        database = Database.open(postgres.jdbcUrl(), postgres.user(), postgres.password(), 6);
        findings = new FindingStore(books);
        views = new StoredViews(database, books);
        actions = new StoredActions(database, clock, books, changes -> {});
        List<Machine> machines = new ArrayList<>();
        List<Site> sites = new ArrayList<>();
        for (String site : List.of("a", "b", "c")) {
            sites.add(site("site-" + site, "Site " + site.toUpperCase(java.util.Locale.ROOT)));
            for (int i = 0; i < 3; i++) {
                machines.add(
                        Machine.basic(site.equals("a") ? "ice-" + i : site + '-' + i, "site-" + site, "gw-" + site));
            }
        }
        new RegisterImport(database, clock, () -> {}).apply(new Register(machines, sites), "policy-1", "a: 1");
        process = process();
    }

    private static Site site(String id, String name) {
        return new Site(
                id,
                name,
                ZoneId.of("Europe/London"),
                Optional.empty(),
                Optional.empty(),
                Set.of(),
                Optional.empty(),
                Optional.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty());
    }

    private Process process() {
        Texts texts = new Texts(views, book.link());
        return new Process(
                new Intake(database, this::passed),
                new Planner(database, book, books, this::passed),
                new Digests(database, book, texts, this::passed),
                new Dispatcher(
                        database,
                        book,
                        books,
                        texts,
                        this::send,
                        new Retries(new SplittableRandom(1)),
                        clock,
                        Runnable::run,
                        this::passed),
                new StoredNotices(database, book, texts, clock, () -> {}));
    }

    private void passed(Step step) {
        if (deadly.filter(step::equals).isPresent()) {
            deadly = Optional.empty();
            hasDied = true;
            throw new Death();
        }
    }

    private Outcome send(Channel channel, Message message) {
        String receiver = book.receivers().values().stream()
                .filter(known -> known.channel() == channel)
                .map(Receiver::name)
                .findFirst()
                .orElseThrow();
        Outcome answer = answers.getOrDefault(receiver, new Outcome.Sent("fine"));
        inboxes.computeIfAbsent(receiver, r -> new ArrayList<>()).add(message);
        return answer;
    }

    /** Forgets everything before. */
    void begin(Instant at) {
        database.jdbi().useHandle(handle -> {
            // the logs refuse to be emptied, and rightly
            handle.execute("alter table notice_attempt disable trigger user");
            handle.execute("alter table alert_audit disable trigger user");
            handle.execute("alter table case_audit disable trigger user");
            handle.execute("truncate notice_attempt, notice_delivery, notice_matter, notice_digest,"
                    + " notice_receiver_closed, alert_event, alert, alert_audit, case_audit, alert_case, finding_revision,"
                    + " site_event cascade");
            handle.execute("alter table notice_attempt enable trigger user");
            handle.execute("alter table alert_audit enable trigger user");
            handle.execute("alter table case_audit enable trigger user");
        });
        now = at;
        inboxes.clear();
        answers.clear();
        open.clear();
        deadly = Optional.empty();
        hasDied = false;
        process = process();
        round();
        inboxes.clear(); // the digest of the day on which it begins
    }

    void pass(Duration time) {
        now = now.plus(time);
    }

    void answer(String receiver, Outcome outcome) {
        answers.put(receiver, outcome);
    }

    void dieOnceAt(Step step) {
        deadly = Optional.of(step);
    }

    boolean died() {
        return hasDied;
    }

    Finding raise(String site, String machine, Condition condition, Priority priority) {
        return raise(site, machine, condition, priority, List.of());
    }

    Finding raise(String site, String machine, Condition condition, Priority priority, List<ProbableCause> causes) {
        Finding finding =
                finding(site, machine, condition, now, 1, Finding.Step.RAISED, Stage.AT_LIMIT, priority, causes);
        receive(finding);
        open.put(finding.id(), finding);
        return finding;
    }

    void clear(Finding finding) {
        receive(finding(
                finding.site(),
                finding.machine().orElseThrow(),
                finding.condition(),
                finding.raisedAt(),
                finding.revision() + 1,
                Finding.Step.CLEARED,
                finding.stage(),
                finding.priority(),
                finding.causes()));
        open.remove(finding.id());
    }

    private void receive(Finding finding) {
        database.jdbi().useTransaction(handle -> {
            SiteLocks.take(handle, List.of(finding.site()));
            findings.receive(handle, finding, now);
        });
    }

    private Finding finding(
            String site,
            String machine,
            Condition condition,
            Instant raisedAt,
            int revision,
            Finding.Step step,
            Stage stage,
            Priority priority,
            List<ProbableCause> causes) {
        return new Finding(
                Finding.idOf(machine, condition, raisedAt),
                revision,
                step,
                site,
                Optional.of(machine),
                Optional.empty(),
                condition,
                stage,
                priority,
                now,
                raisedAt,
                causes,
                Optional.empty(),
                Optional.empty(),
                "Something was seen.",
                "detector-1",
                "policy-1");
    }

    void acknowledge(Finding finding) {
        AlertView alert = views.alert(finding.id()).orElseThrow();
        actions.acknowledge(finding.id(), alert.version(), ADA.name(), "");
    }

    void acknowledgeAll() {
        for (AlertView alert : views.alerts(true, Optional.empty(), 1_000)) {
            if (alert.state().needsEyes()) {
                actions.acknowledge(alert.finding().id(), alert.version(), ADA.name(), "");
            }
        }
    }

    /** One round of the stage, which must not end early. */
    void round() {
        run();
    }

    /** One round; where the process ends, another one begins. */
    void roundOrDie() {
        try {
            run();
        } catch (Death e) {
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

    /** Something happens to a machine, or somebody does something. */
    void randomStep(Random random) {
        List<Finding> known = List.copyOf(open.values());
        switch (random.nextInt(6)) {
            case 0, 1 -> {
                String site = List.of("a", "b", "c").get(random.nextInt(3));
                int machine = random.nextInt(3);
                raise(
                        "site-" + site,
                        site.equals("a") ? "ice-" + machine : site + '-' + machine,
                        CONDITIONS.get(random.nextInt(CONDITIONS.size())),
                        Priority.values()[random.nextInt(4)],
                        random.nextBoolean() ? SCALE : List.of());
            }
            case 2, 3 -> {
                if (!known.isEmpty()) {
                    clear(known.get(random.nextInt(known.size())));
                }
            }
            case 4 -> acknowledgeAll();
            default -> shelveOne(random);
        }
    }

    private void shelveOne(Random random) {
        List<AlertView> present = views.alerts(true, Optional.empty(), 1_000).stream()
                .filter(alert -> alert.state().isActive())
                .toList();
        if (!present.isEmpty()) {
            AlertView alert = present.get(random.nextInt(present.size()));
            actions.act(
                    alert.finding().id(),
                    alert.version(),
                    ADA,
                    new Action.Shelve("later", now.plus(Duration.ofHours(2 + random.nextInt(40)))));
        }
    }

    /** Everything is over and seen. */
    void endAll() {
        deadly = Optional.empty();
        List.copyOf(open.values()).forEach(this::clear);
        for (AlertView alert : views.alerts(true, Optional.empty(), 1_000)) {
            clear(alert.finding());
        }
        for (AlertView alert : views.alerts(true, Optional.empty(), 1_000)) {
            actions.act(alert.finding().id(), alert.version(), ADA, new Action.Reset("done"));
        }
        acknowledgeAll();
    }

    /** Nothing waits, every event went, who was told of a beginning was told its end once and nothing after that. */
    void assertWhole(long seed) {
        assertThat(count("select count(*) from alert_event")).isZero();
        assertThat(count("select count(*) from notice_delivery where state in ('waiting', 'sending')"))
                .as("seed %s", seed)
                .isZero();
        assertThat(count("select count(*) from notice_matter where not is_over"))
                .isZero();
        assertThat(count("""
                select count(*) from notice_delivery d where d.kind = 'over' and d.state = 'sent' and not exists (
                    select 1 from notice_delivery e where e.matter = d.matter and e.receiver = d.receiver
                        and e.kind in ('raised', 'worse') and e.state = 'sent' and e.ended_at <= d.ended_at)""")).isZero();
        assertThat(count("""
                select count(*) from notice_delivery d where d.kind in ('raised', 'worse') and d.state = 'sent'
                    and d.route <> 'loud' and 1 <> (select count(*) from notice_delivery e where e.matter = d.matter
                        and e.receiver = d.receiver and e.kind = 'over' and e.state = 'sent')""")).isZero();
        assertThat(count("""
                select count(*) from notice_delivery d join notice_delivery e on e.matter = d.matter
                    and e.receiver = d.receiver and e.kind in ('over', 'passed') and e.state = 'sent'
                where d.kind in ('raised', 'worse') and d.state = 'sent' and d.ended_at > e.ended_at""")).isZero();
        for (Map.Entry<String, List<Message>> inbox : inboxes.entrySet()) {
            Map<UUID, Message> first = new HashMap<>();
            for (Message message : inbox.getValue()) {
                Message before = first.putIfAbsent(message.id(), message);
                if (before != null) {
                    assertThat(message.content()).isEqualTo(before.content());
                }
            }
        }
    }

    long openEpisodesTwice() {
        return count("""
                select count(*) from (select 1 from alert where state <> 'normal'
                    group by subject, condition having count(*) > 1) twice""");
    }

    private long count(String sql) {
        return database.jdbi()
                .withHandle(handle -> handle.createQuery(sql).mapTo(Long.class).one());
    }

    List<Message> messages(String receiver) {
        return inboxes.getOrDefault(receiver, List.of());
    }

    /** Kinds of all that arrived, repeats included. */
    List<String> arrived(String receiver) {
        return messages(receiver).stream().map(Message::kind).toList();
    }

    /** Kinds of all that arrived, each id once. */
    List<String> distinct(String receiver) {
        Map<UUID, String> kinds = new LinkedHashMap<>();
        messages(receiver).forEach(message -> kinds.putIfAbsent(message.id(), message.kind()));
        return List.copyOf(kinds.values());
    }

    Notices notices() {
        return process.notices();
    }

    Views views() {
        return views;
    }

    @Override
    public void close() {
        database.close();
        postgres.close();
    }
}
