package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.register.RegisterImport;
import dev.rimecast.alerts.register.SiteEvents;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.store.CaseStore;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.FindingStore;
import dev.rimecast.alerts.store.ProofStore;
import dev.rimecast.alerts.store.SiteLocks;
import dev.rimecast.alerts.store.StoredActions;
import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.proof.Check;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.proof.Verdict;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Random;
import java.util.Set;
import java.util.UUID;

/** Three sites with three machines each, what goes wrong with them, and what a person does about it. */
final class World {
    static final List<ProbableCause> SCALE = List.of(new ProbableCause(Cause.SCALE, 0.7, List.of(), List.of()));

    private static final Person ADA = new Person("ada");
    private static final List<String> SITES = List.of("a", "b", "c");
    private static final int MACHINES_OF_A_SITE = 3;
    private static final List<Condition> CONDITIONS =
            List.of(Condition.LONG_FREEZE, Condition.DRAIN_PUMP_OVERRUN, Condition.NOT_MAKING_ICE);

    private final Database database;
    private final FindingStore findings;
    private final BooksInForce books;
    private final Views views;
    private final StoredActions actions;
    private final InstantSource clock;
    private final Map<UUID, Finding> open = new LinkedHashMap<>();

    World(Database database, BooksInForce books, Views views, InstantSource clock) {
        this.database = database;
        this.findings = new FindingStore(books);
        this.books = books;
        this.views = views;
        this.actions = new StoredActions(database, clock, books, changes -> {});
        this.clock = clock;
        List<Machine> machines = new ArrayList<>();
        for (String site : SITES) {
            for (int i = 0; i < MACHINES_OF_A_SITE; i++) {
                machines.add(Machine.basic(machine(site, i), "site-" + site, "gw-" + site));
            }
        }
        List<Site> sites = SITES.stream()
                .map(letter -> site("site-" + letter, "Site " + letter.toUpperCase(Locale.ROOT)))
                .toList();
        new RegisterImport(database, clock, () -> {}).apply(new Register(machines, sites), "policy-1", "a: 1");
    }

    /** Somebody says so, now. */
    void happened(String site, Optional<String> machine, EventKind kind) {
        new SiteEvents(database, new CaseStore(books), clock, () -> {}, changes -> {})
                .report(new Happened(clock.instant(), machine, kind, "", "", ""), site);
    }

    /** Work turns out now not to have held. */
    void notHeld(String site, String machine, Instant worked) {
        Proof proof = new Proof(
                Proof.idOf(machine, worked),
                1,
                site,
                machine,
                worked,
                clock.instant(),
                Optional.empty(),
                List.of(),
                Check.TEN_CYCLES,
                Verdict.NOT_HELD,
                OptionalDouble.of(0.01),
                10,
                OptionalInt.empty(),
                List.of(),
                List.of(),
                true,
                "It is back. Not held.",
                "detector-1",
                "policy-1");
        database.jdbi().useTransaction(handle -> ProofStore.write(handle, proof));
    }

    private static String machine(String site, int i) {
        return site.equals("a") ? "ice-" + i : site + '-' + i;
    }

    static Site site(String id, String name) {
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

    void begin() {
        open.clear();
    }

    Finding raise(String site, String machine, Condition condition, Priority priority) {
        return raise(site, machine, condition, priority, List.of());
    }

    Finding raise(String site, String machine, Condition condition, Priority priority, List<ProbableCause> causes) {
        Finding finding = finding(
                site, machine, condition, clock.instant(), 1, Finding.Step.RAISED, Stage.AT_LIMIT, priority, causes);
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
            findings.receive(handle, finding, clock.instant());
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
                clock.instant(),
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
        for (AlertView alert : views.alerts(AlertFilter.OPEN, 1_000)) {
            if (alert.state().needsEyes()) {
                actions.acknowledge(alert.finding().id(), alert.version(), ADA.name(), "");
            }
        }
    }

    /** Something happens to a machine, or somebody does something. */
    void randomStep(Random random) {
        List<Finding> known = List.copyOf(open.values());
        switch (random.nextInt(6)) {
            case 0, 1 -> {
                String site = SITES.get(random.nextInt(SITES.size()));
                raise(
                        "site-" + site,
                        machine(site, random.nextInt(MACHINES_OF_A_SITE)),
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
        List<AlertView> present = views.alerts(AlertFilter.OPEN, 1_000).stream()
                .filter(alert -> alert.state().isActive())
                .toList();
        if (!present.isEmpty()) {
            AlertView alert = present.get(random.nextInt(present.size()));
            actions.act(
                    alert.finding().id(),
                    alert.version(),
                    ADA,
                    new Action.Shelve("later", clock.instant().plus(Duration.ofHours(2 + random.nextInt(40)))));
        }
    }

    /** Everything is over and seen. */
    void endAll() {
        List.copyOf(open.values()).forEach(this::clear);
        for (AlertView alert : views.alerts(AlertFilter.OPEN, 1_000)) {
            clear(alert.finding());
        }
        for (AlertView alert : views.alerts(AlertFilter.OPEN, 1_000)) {
            actions.act(alert.finding().id(), alert.version(), ADA, new Action.Reset("done"));
        }
        acknowledgeAll();
    }
}
