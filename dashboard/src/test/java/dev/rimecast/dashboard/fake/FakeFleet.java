package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.Actions;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.GatewayView;
import dev.rimecast.alerts.view.Hold;
import dev.rimecast.alerts.view.ListPlace;
import dev.rimecast.alerts.view.MachineView;
import dev.rimecast.alerts.view.MachineView.FleetRow;
import dev.rimecast.alerts.view.MachineView.Now;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.ProofView;
import dev.rimecast.alerts.view.RollupPoint;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.TracePoint;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.proof.Verdict;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;

/** A fleet of an invented firm, in memory, with the rules of life that the pages can meet. */
public final class FakeFleet implements Views, Actions {
    private static final Comparator<ListPlace> BY_PLACE = Comparator.comparing(ListPlace::isOver)
            .thenComparing(ListPlace::at, Comparator.reverseOrder())
            .thenComparing(place -> place.id().toString());

    private final InstantSource clock;
    private final FakeChanges changes;
    private final Map<String, Machine> machines = new LinkedHashMap<>();
    private final Map<String, Site> sites = new LinkedHashMap<>();
    private final Map<UUID, AlertView> alerts = new LinkedHashMap<>();
    private final Map<UUID, Hold> holds = new LinkedHashMap<>();

    FakeFleet(InstantSource clock, FakeChanges changes, List<Site> sites, List<Machine> machines) {
        this.clock = clock;
        this.changes = changes;
        sites.forEach(site -> this.sites.put(site.id(), site));
        machines.forEach(machine -> this.machines.put(machine.id(), machine));
        changes.placeWith(machine ->
                Objects.requireNonNull(this.machines.get(machine), machine).site());
    }

    /** Puts an alert in, new or changed, and says so. */
    public synchronized void put(AlertView alert) {
        putUntold(alert);
        changes.publish(
                "alert",
                alert.finding().site(),
                alert.finding().machine().orElse(""),
                alert.finding().id().toString());
    }

    /** Puts an alert in, new or changed, and nobody is told. */
    public synchronized void putUntold(AlertView alert) {
        alerts.put(alert.finding().id(), alert);
    }

    /** The open alert of a machine that comes first. */
    public AlertView leading(String machine) {
        return open(machine).get(0);
    }

    public void clear(String machine) {
        put(FakeAlerts.over(leading(machine), clock.instant()));
    }

    /** The same, and nobody is told. */
    public void clearUntold(String machine) {
        putUntold(FakeAlerts.over(leading(machine), clock.instant()));
    }

    /** Everything that is open of a machine is over. */
    public void clearAll(String machine) {
        open(machine).stream()
                .filter(alert -> alert.clearedAt().isEmpty())
                .forEach(alert -> put(FakeAlerts.over(alert, clock.instant())));
    }

    @Override
    public synchronized List<FleetRow> fleet() {
        Map<String, List<AlertView>> open = new LinkedHashMap<>();
        for (AlertView alert : alerts.values()) {
            if (alert.state() != AlertState.NORMAL) {
                alert.finding()
                        .machine()
                        .ifPresent(id -> open.computeIfAbsent(id, key -> new ArrayList<>())
                                .add(alert));
            }
        }
        return machines.values().stream()
                .map(machine -> row(machine, open.getOrDefault(machine.id(), List.of())))
                .sorted(BY_TIME_LEFT)
                .toList();
    }

    private static final Comparator<FleetRow> BY_TIME_LEFT = Comparator.<FleetRow, Boolean>comparing(
                    row -> row.leading().isEmpty())
            .thenComparing(row -> row.leading()
                    .map(alert -> -alert.finding().stage().ordinal())
                    .orElse(0))
            .thenComparing(row -> row.actBy().orElse(Instant.MAX))
            .thenComparing(FleetRow::machine);

    private FleetRow row(Machine machine, List<AlertView> open) {
        Optional<AlertView> leading = open.stream().min(BY_URGENCY);
        return new FleetRow(
                machine.id(),
                machine.site(),
                site(machine).name(),
                machine.room(),
                Optional.of(Math.floorMod(machine.id().hashCode(), 3) == 0 ? "idle" : "freeze"),
                Optional.of(clock.instant()
                        .minusSeconds(20 + Math.floorMod(machine.id().hashCode(), 40))),
                leading,
                open.size(),
                leading.map(alert -> alert.finding().priority()),
                leading.flatMap(alert -> alert.advice().latestDate()));
    }

    private static final Comparator<AlertView> BY_URGENCY = Comparator.<AlertView, Priority>comparing(
                    alert -> alert.finding().priority())
            .thenComparing(alert -> alert.advice().latestDate().orElse(Instant.MAX));

    private synchronized List<AlertView> open(String machine) {
        return alerts.values().stream()
                .filter(alert -> alert.state() != AlertState.NORMAL)
                .filter(alert ->
                        alert.finding().machine().filter(machine::equals).isPresent())
                .sorted(BY_URGENCY)
                .toList();
    }

    @Override
    public List<Site> sites() {
        return List.copyOf(sites.values());
    }

    @Override
    public Optional<MachineView> machine(String id) {
        return Optional.ofNullable(machines.get(id)).map(machine -> {
            Instant at = clock.instant().minusSeconds(24);
            Map<Channel, Now> now = Map.of(
                    Channel.EVAPORATOR_TEMPERATURE, new Now(at, -6.4, ""),
                    Channel.CONDENSER_TEMPERATURE, new Now(at, 43.9, ""),
                    Channel.AMBIENT_TEMPERATURE, new Now(at, 25.1, ""),
                    Channel.PHASE, new Now(at, 0, "freeze"),
                    Channel.BIN_FULL, new Now(at, 0, ""),
                    Channel.DRAIN_RUN_TIME, new Now(at, 3.4, ""));
            return new MachineView(
                    machine,
                    site(machine),
                    Optional.of(at),
                    now,
                    open(id),
                    holds.values().stream()
                            .filter(hold -> hold.subject().equals(id)
                                    && hold.condition().isEmpty())
                            .findFirst());
        });
    }

    @Override
    public List<RollupPoint> temperatures(String machine, Instant from, Instant to, Duration bucket) {
        return curves(machine).temperatures(from, to, bucket);
    }

    @Override
    public List<Proof> notHeld(SiteScope sites, Instant from, Instant to, int limit) {
        return machines.keySet().stream()
                .flatMap(machine -> proofs(machine, limit).stream())
                .map(ProofView::proof)
                .filter(proof -> proof.verdict() == Verdict.NOT_HELD && sites.includes(proof.site()))
                .filter(proof -> !proof.at().isBefore(from) && proof.at().isBefore(to))
                .toList();
    }

    @Override
    public List<ProofView> proofs(String machine, int limit) {
        return FakeProofs.of(machine, clock.instant()).stream().limit(limit).toList();
    }

    @Override
    public List<TracePoint> trace(String machine, Instant from, Instant to) {
        return curves(machine).trace(machine, from, to);
    }

    @Override
    public List<Cycle> cycles(String machine, Instant from, Instant to) {
        return curves(machine).cycles(machine, from, to);
    }

    private Site site(Machine machine) {
        return Objects.requireNonNull(sites.get(machine.site()), machine.site());
    }

    private FakeCurves curves(String machine) {
        return new FakeCurves(clock.instant(), open(machine).isEmpty() ? 0 : 0.4);
    }

    @Override
    public List<GatewayView> gateways() {
        return machines.values().stream()
                .collect(Collectors.groupingBy(Machine::gateway, TreeMap::new, Collectors.toList()))
                .entrySet()
                .stream()
                .map(entry -> new GatewayView(
                        entry.getKey(),
                        entry.getValue().get(0).site(),
                        site(entry.getValue().get(0)).name(),
                        Optional.of(!entry.getKey().equals("gw-4")),
                        Optional.of(clock.instant().minusSeconds(3600)),
                        Optional.of(clock.instant().minusSeconds(entry.getKey().equals("gw-4") ? 3600 : 20)),
                        entry.getValue().stream().map(Machine::id).toList()))
                .sorted(Comparator.comparing(view -> view.lastPackAt().orElse(Instant.EPOCH)))
                .toList();
    }

    @Override
    public synchronized List<AlertView> alerts(
            SiteScope within, AlertFilter filter, Optional<ListPlace> after, int limit) {
        return alerts.values().stream()
                .filter(alert -> within.includes(alert.finding().site()))
                .filter(alert -> filter.wants(alert))
                .filter(alert -> after.isEmpty() || BY_PLACE.compare(after.get(), ListPlace.behind(alert)) < 0)
                .sorted(Comparator.comparing(ListPlace::behind, BY_PLACE))
                .limit(limit)
                .toList();
    }

    @Override
    public synchronized Optional<AlertView> alert(UUID id) {
        return Optional.ofNullable(alerts.get(id));
    }

    /** The first revision is the latest here, as it was raised: before it got worse. */
    @Override
    public synchronized Optional<Finding> raised(UUID alert) {
        return Optional.ofNullable(alerts.get(alert)).map(view -> FakeAlerts.asRaised(view.finding()));
    }

    @Override
    public synchronized List<Hold> holds() {
        return List.copyOf(holds.values());
    }

    @Override
    public synchronized Optional<Hold> hold(UUID id) {
        return Optional.ofNullable(holds.get(id));
    }

    @Override
    public Outcome act(UUID id, long expectedVersion, Person who, Action action) {
        Optional<AlertView> found = alert(id);
        if (found.isEmpty()) {
            return new Outcome.NoSuchAlert();
        }
        AlertView alert = found.get();
        if (alert.version() != expectedVersion) {
            return new Outcome.Changed(alert);
        }
        Instant now = clock.instant();
        if (action instanceof Action.Acknowledge seen && alert.state().needsEyes()) {
            put(FakeAlerts.seen(alert, who.name(), now, seen.note()));
        } else if (action instanceof Action.Reset reset && FakeAlerts.isLatched(alert)) {
            put(FakeAlerts.reset(alert, who.name(), now, reset.note()));
        } else if (action instanceof Action.Assign assign) {
            put(FakeAlerts.assigned(alert, who.name(), now, assign));
        } else if (action instanceof Action.Join join) {
            put(FakeAlerts.moved(alert, who.name(), now, join.caseId(), join.reason()));
        } else if (action instanceof Action.Part part) {
            put(FakeAlerts.moved(
                    alert, who.name(), now, FakeCases.idOf(alert.siteName(), id.toString()), part.reason()));
        } else if (action instanceof Action.Shelve shelve && alert.state().isActive()) {
            hold(alert, FakeHolds.shelf(alert, who, shelve, now));
        } else if (action instanceof Action.TakeOutOfService taken
                && alert.state().isActive()) {
            hold(alert, FakeHolds.outOfService(alert, who, taken, now));
        } else {
            return new Outcome.NotAllowed(alert, "It was marked as seen already.");
        }
        return new Outcome.Done(alert(id).orElseThrow());
    }

    @Override
    public synchronized Outcome comment(UUID id, Person who, String text) {
        return alert(id)
                .<Outcome>map(alert -> {
                    put(FakeAlerts.noted(alert, who.name(), clock.instant(), text));
                    return new Outcome.Done(alert(id).orElseThrow());
                })
                .orElseGet(Outcome.NoSuchAlert::new);
    }

    @Override
    public synchronized List<CaseView> cases(SiteScope within, boolean openOnly, Optional<ListPlace> after, int limit) {
        return FakeCases.of(List.copyOf(alerts.values()), clock.instant()).stream()
                .filter(view -> within.includes(view.site()))
                .filter(view -> !openOnly || view.closedAt().isEmpty())
                .filter(view -> after.isEmpty() || BY_PLACE.compare(after.get(), ListPlace.behind(view)) < 0)
                .sorted(Comparator.comparing(ListPlace::behind, BY_PLACE))
                .limit(limit)
                .toList();
    }

    @Override
    public Optional<CaseView> caseOf(UUID id) {
        return cases(false, Integer.MAX_VALUE).stream()
                .filter(view -> view.id().equals(id))
                .findFirst();
    }

    @Override
    public CaseOutcome closeCase(UUID id, Person who, String why) {
        return caseOf(id)
                .map(view -> view.closedAt().isPresent()
                        ? new CaseOutcome.Done(view)
                        : new CaseOutcome.NotAllowed("it closes by itself"))
                .orElseGet(CaseOutcome.NotFound::new);
    }

    /** Puts a hold on an alert, as a person or a rule does. */
    public synchronized void hold(AlertView alert, Hold hold) {
        holds.put(hold.id(), hold);
        put(FakeAlerts.held(alert, Optional.of(hold), hold.since(), hold.who(), hold.why()));
    }

    @Override
    public synchronized HoldOutcome takeOutOfService(String machine, Person who, Action.TakeOutOfService action) {
        Machine row = machines.get(machine);
        if (row == null) {
            return new HoldOutcome.NotFound();
        }
        Hold hold = FakeHolds.outOfService(row, who, action, clock.instant());
        holds.put(hold.id(), hold);
        open(machine).stream()
                .filter(alert -> alert.state().isActive())
                .forEach(alert ->
                        put(FakeAlerts.held(alert, Optional.of(hold), clock.instant(), who.name(), action.reason())));
        return new HoldOutcome.Done(hold);
    }

    @Override
    public synchronized HoldOutcome endHold(UUID id, Person who, String why) {
        Hold hold = holds.remove(id);
        if (hold == null) {
            return new HoldOutcome.NotFound();
        }
        List.copyOf(alerts.values()).stream()
                .filter(alert -> alert.hold().equals(Optional.of(hold)))
                .forEach(alert -> put(FakeAlerts.held(alert, Optional.empty(), clock.instant(), who.name(), why)));
        return new HoldOutcome.Done(hold);
    }

    /** The id of a finding that was never raised. */
    public static UUID unknownAlert() {
        return Finding.idOf("nowhere", dev.rimecast.telemetry.finding.Condition.LOW_OUTPUT, Instant.EPOCH);
    }
}
