package dev.rimecast.alerts.store;

import dev.rimecast.alerts.life.EpisodeRules;
import dev.rimecast.alerts.life.EpisodeRules.Change;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.Actions;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.Changes;
import dev.rimecast.alerts.view.Hold;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.yaml.DurationText;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;
import org.jdbi.v3.core.Handle;

/** What people do, each in one transaction with its line in the audit and its event. */
public final class StoredActions implements Actions {
    private final Database database;
    private final InstantSource clock;
    private final BooksInForce books;
    private final HoldKeeper keeper;
    private final ViewAssembly assembly;
    private final CaseViews cases;
    private final Consumer<Collection<Changes.Change>> afterCommit;

    /** @param afterCommit told what changed, once it is committed */
    public StoredActions(
            Database database,
            InstantSource clock,
            BooksInForce books,
            Consumer<Collection<Changes.Change>> afterCommit) {
        this.database = database;
        this.clock = clock;
        this.books = books;
        this.keeper = new HoldKeeper(books);
        this.assembly = new ViewAssembly(books);
        this.cases = new CaseViews(assembly, books);
        this.afterCommit = afterCommit;
    }

    @Override
    public Outcome act(UUID alert, long expectedVersion, Person who, Action action) {
        Outcome outcome = database.jdbi().inTransaction(handle -> {
            Optional<StoredAlert> found = locked(handle, alert);
            if (found.isEmpty()) {
                return new Outcome.NoSuchAlert();
            }
            if (found.get().version() != expectedVersion) {
                return new Outcome.Changed(view(handle, alert));
            }
            Optional<String> refused = act(handle, found.get(), who, action);
            return refused.<Outcome>map(reason -> new Outcome.NotAllowed(view(handle, alert), reason))
                    .orElseGet(() -> new Outcome.Done(view(handle, alert)));
        });
        return told(outcome);
    }

    @Override
    public Outcome comment(UUID alert, Person who, String text) {
        return told(database.jdbi().inTransaction(handle -> {
            if (locked(handle, alert).isEmpty()) {
                return new Outcome.NoSuchAlert();
            }
            AuditTrail.append(handle, alert, now(), who.name(), "noted", text);
            return new Outcome.Done(view(handle, alert));
        }));
    }

    private Outcome told(Outcome outcome) {
        if (outcome instanceof Outcome.Done done) {
            Finding finding = done.alert().finding();
            afterCommit.accept(List.of(new Changes.Change(
                    "alert",
                    finding.site(),
                    finding.machine().orElse(""),
                    finding.id().toString())));
        }
        return outcome;
    }

    private static Optional<StoredAlert> locked(Handle handle, UUID alert) {
        Optional<String> site = handle.createQuery("select site from alert where id = :id")
                .bind("id", alert)
                .mapTo(String.class)
                .findOne();
        site.ifPresent(id -> SiteLocks.take(handle, List.of(id)));
        return StoredAlert.locked(handle, alert);
    }

    /** Returns why it is not allowed, or nothing once it is written. */
    private Optional<String> act(Handle handle, StoredAlert alert, Person who, Action action) {
        if (action instanceof Action.Acknowledge seen) {
            return step(handle, alert, EpisodeRules.acknowledge(alert.life()), who, "acknowledged", seen.note());
        }
        if (action instanceof Action.Reset reset) {
            return step(handle, alert, EpisodeRules.reset(alert.life()), who, "reset", reset.note());
        }
        if (action instanceof Action.Assign assign) {
            return assign(handle, alert, who, assign);
        }
        if (action instanceof Action.Join join) {
            return CaseChoices.join(handle, alert, join.caseId(), now(), who.name(), join.reason());
        }
        if (action instanceof Action.Part part) {
            return CaseChoices.part(handle, alert, now(), who.name(), part.reason());
        }
        Change change = EpisodeRules.hold(
                alert.life(), action instanceof Action.Shelve ? Hold.Kind.SHELVED : Hold.Kind.OUT_OF_SERVICE);
        if (change instanceof Change.Refused refused) {
            return Optional.of(refused.reason());
        }
        Optional<String> refused = action instanceof Action.Shelve shelve ? wrongEnd(shelve) : Optional.empty();
        if (refused.isPresent()) {
            return refused;
        }
        Hold hold = hold(alert, who, action);
        HoldStore.begin(handle, hold);
        keeper.settle(handle, hold, now());
        return Optional.empty();
    }

    private Optional<String> assign(Handle handle, StoredAlert alert, Person who, Action.Assign action) {
        if (alert.life().state() == AlertState.NORMAL) {
            return Optional.of("it is over and seen");
        }
        if (alert.assignee().equals(action.assignee())) {
            return Optional.of(
                    action.assignee().map(name -> name + " has it already").orElse("nobody has it"));
        }
        AlertChanges.assign(handle, alert.finding().id(), now(), who.name(), action);
        return Optional.empty();
    }

    private Optional<String> step(
            Handle handle, StoredAlert alert, Change change, Person who, String what, String why) {
        if (change instanceof Change.Refused refused) {
            return Optional.of(refused.reason());
        }
        AlertChanges.step(handle, alert, ((Change.Allowed) change).life(), now(), who.name(), what, why);
        return Optional.empty();
    }

    private Optional<String> wrongEnd(Action.Shelve shelve) {
        Instant now = now();
        Duration longest = books.life().longestShelf();
        if (!shelve.until().isAfter(now)) {
            return Optional.of("the end must be later than now");
        }
        return shelve.until().isAfter(now.plus(longest))
                ? Optional.of("the end must be within " + DurationText.format(longest))
                : Optional.empty();
    }

    private Hold hold(StoredAlert alert, Person who, Action action) {
        Optional<Action.Shelve> shelve = action instanceof Action.Shelve s ? Optional.of(s) : Optional.empty();
        Optional<Action.TakeOutOfService> taken =
                action instanceof Action.TakeOutOfService t ? Optional.of(t) : Optional.empty();
        return new Hold(
                UUID.randomUUID(),
                shelve.isPresent() ? Hold.Kind.SHELVED : Hold.Kind.OUT_OF_SERVICE,
                alert.subject(),
                alert.finding().site(),
                Optional.of(alert.finding().condition().code()),
                who.name(),
                shelve.map(Action.Shelve::reason)
                        .or(() -> taken.map(Action.TakeOutOfService::reason))
                        .orElseThrow(),
                taken.map(Action.TakeOutOfService::permittedBy),
                now(),
                shelve.map(Action.Shelve::until));
    }

    @Override
    public HoldOutcome takeOutOfService(String machine, Person who, Action.TakeOutOfService action) {
        return telling(database.jdbi().inTransaction(handle -> {
            Optional<String> site = RegisterStore.machine(handle, machine).map(Machine::site);
            if (site.isEmpty()) {
                return new HoldOutcome.NotFound();
            }
            SiteLocks.take(handle, List.of(site.get()));
            Optional<Hold> already = HoldStore.of(handle, List.of(machine)).stream()
                    .filter(hold -> hold.kind() == Hold.Kind.OUT_OF_SERVICE
                            && hold.condition().isEmpty())
                    .findFirst();
            if (already.isPresent()) {
                return new HoldOutcome.NotAllowed("it is out of service already", already);
            }
            Hold hold = new Hold(
                    UUID.randomUUID(),
                    Hold.Kind.OUT_OF_SERVICE,
                    machine,
                    site.get(),
                    Optional.empty(),
                    who.name(),
                    action.reason(),
                    Optional.of(action.permittedBy()),
                    now(),
                    Optional.empty());
            HoldStore.begin(handle, hold);
            keeper.settle(handle, hold, now());
            return new HoldOutcome.Done(hold);
        }));
    }

    @Override
    public HoldOutcome endHold(UUID id, Person who, String why) {
        return telling(database.jdbi().inTransaction(handle -> {
            Optional<String> site = handle.createQuery("select site from alert_hold where id = :id")
                    .bind("id", id)
                    .mapTo(String.class)
                    .findOne();
            if (site.isEmpty()) {
                return new HoldOutcome.NotFound();
            }
            SiteLocks.take(handle, List.of(site.get()));
            Optional<Hold> hold = HoldStore.open(handle, id);
            if (hold.isEmpty()) {
                return new HoldOutcome.NotAllowed("it has ended already", Optional.empty());
            }
            if (hold.get().kind() == Hold.Kind.SUPPRESSED) {
                return new HoldOutcome.NotAllowed(
                        "it ends by itself, once " + hold.get().why() + " no longer", hold);
            }
            HoldStore.end(handle, id, now(), who.name(), why);
            keeper.settle(handle, hold.get(), now(), who.name(), why);
            return new HoldOutcome.Done(hold.get());
        }));
    }

    @Override
    public CaseOutcome closeCase(UUID id, Person who, String why) {
        CaseOutcome outcome = database.jdbi().inTransaction(handle -> {
            Optional<CaseView> found = cases.one(handle, id);
            if (found.isEmpty()) {
                return new CaseOutcome.NotFound();
            }
            SiteLocks.take(handle, List.of(found.get().site()));
            CaseView current = cases.one(handle, id).orElseThrow();
            if (current.closedAt().isPresent()) {
                return new CaseOutcome.NotAllowed("it was closed already");
            }
            if (current.alerts().stream().anyMatch(alert -> alert.state() != AlertState.NORMAL)) {
                return new CaseOutcome.NotAllowed("it closes by itself, once its alerts are over and seen");
            }
            CaseChanges.close(handle, id, now(), who.name(), why);
            return new CaseOutcome.Done(cases.one(handle, id).orElseThrow());
        });
        if (outcome instanceof CaseOutcome.Done done) {
            afterCommit.accept(List.of(new Changes.Change("alert", done.view().site(), "", "")));
        }
        return outcome;
    }

    private HoldOutcome telling(HoldOutcome outcome) {
        if (outcome instanceof HoldOutcome.Done done) {
            String machine =
                    done.hold().subject().contains(":") ? "" : done.hold().subject();
            afterCommit.accept(List.of(new Changes.Change("alert", done.hold().site(), machine, "")));
        }
        return outcome;
    }

    /** To the millisecond, as everything that is sent and stored. */
    private Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.MILLIS);
    }

    private AlertView view(Handle handle, UUID alert) {
        List<ViewAssembly.Named> row = handle.createQuery(ViewAssembly.SELECT + "where a.id = :id")
                .bind("id", alert)
                .map((result, context) -> new ViewAssembly.Named(StoredAlert.of(result), result.getString("site_name")))
                .list();
        return assembly.views(handle, row).get(0);
    }
}
