package dev.rimecast.alerts.store;

import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.GatewayView;
import dev.rimecast.alerts.view.Hold;
import dev.rimecast.alerts.view.ListPlace;
import dev.rimecast.alerts.view.MachineView;
import dev.rimecast.alerts.view.MachineView.FleetRow;
import dev.rimecast.alerts.view.MachineView.Now;
import dev.rimecast.alerts.view.ProofView;
import dev.rimecast.alerts.view.RollupPoint;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.TracePoint;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.proof.Proof;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/** What the pages ask, from the database. */
public final class StoredViews implements Views {
    private static final Duration SMALLEST_BUCKET = Duration.ofMinutes(5);

    private final Database database;
    private final ViewAssembly assembly;
    private final CaseViews cases;

    public StoredViews(Database database, BooksInForce books) {
        this.database = database;
        this.assembly = new ViewAssembly(books);
        this.cases = new CaseViews(assembly, books);
    }

    @Override
    public List<FleetRow> fleet() {
        return database.jdbi().withHandle(handle -> new FleetQuery(assembly).rows(handle));
    }

    @Override
    public List<Site> sites() {
        return database.jdbi().withHandle(RegisterStore::sites).stream()
                .sorted(Comparator.comparing(Site::name).thenComparing(Site::id))
                .toList();
    }

    @Override
    public Optional<MachineView> machine(String id) {
        return database.jdbi()
                .inTransaction(handle -> RegisterStore.machine(handle, id).map(machine -> view(handle, machine)));
    }

    private MachineView view(Handle handle, Machine machine) {
        Map<Channel, Now> now = latest(handle, machine.id());
        return new MachineView(
                machine,
                RegisterStore.site(handle, machine.site()).orElseGet(() -> Site.basic(machine.site())),
                now.values().stream().map(Now::at).max(Comparator.naturalOrder()),
                now,
                alerts(handle, SiteScope.EVERY, AlertFilter.openOf(machine.id()), Optional.empty(), Integer.MAX_VALUE)
                        .stream()
                        .sorted(FleetQuery.LEADING)
                        .toList(),
                HoldStore.of(handle, List.of(machine.id())).stream()
                        .filter(hold -> hold.kind() == Hold.Kind.OUT_OF_SERVICE
                                && hold.condition().isEmpty())
                        .findFirst());
    }

    private static Map<Channel, Now> latest(Handle handle, String machine) {
        Map<Channel, Now> now = new EnumMap<>(Channel.class);
        handle.createQuery("select channel, at, value, text from latest_value where machine = :machine")
                .bind("machine", machine)
                .map((row, context) -> {
                    Now value = new Now(row.getTimestamp(2).toInstant(), row.getDouble(3), row.getString(4));
                    Channel.ofCode(row.getString(1)).ifPresent(channel -> now.put(channel, value));
                    return value;
                })
                .list();
        return now;
    }

    @Override
    public List<RollupPoint> temperatures(String machine, Instant from, Instant to, Duration bucket) {
        if (bucket.isNegative() || bucket.isZero() || bucket.toMillis() % SMALLEST_BUCKET.toMillis() != 0) {
            throw new IllegalArgumentException("bucket must be a multiple of 5 minutes, was " + bucket);
        }
        return database.jdbi().withHandle(handle -> TemperatureQuery.points(handle, machine, from, to, bucket));
    }

    @Override
    public List<TracePoint> trace(String machine, Instant from, Instant to) {
        return database.jdbi().withHandle(handle -> TraceQuery.points(handle, machine, from, to));
    }

    @Override
    public List<Cycle> cycles(String machine, Instant from, Instant to) {
        return database.jdbi().withHandle(handle -> CycleStore.read(handle, machine, from, to));
    }

    @Override
    public List<ProofView> proofs(String machine, int limit) {
        return database.jdbi().withHandle(handle -> ProofStore.ofMachine(handle, machine, limit));
    }

    @Override
    public List<Proof> notHeld(SiteScope sites, Instant from, Instant to, int limit) {
        return database.jdbi().withHandle(handle -> ProofStore.notHeld(handle, sites, from, to, limit));
    }

    @Override
    public List<GatewayView> gateways() {
        return database.jdbi().withHandle(GatewayQuery::all);
    }

    @Override
    public List<AlertView> alerts(SiteScope sites, AlertFilter filter, Optional<ListPlace> after, int limit) {
        return database.jdbi().inTransaction(handle -> alerts(handle, sites, filter, after, limit));
    }

    private List<AlertView> alerts(
            Handle handle, SiteScope sites, AlertFilter filter, Optional<ListPlace> after, int limit) {
        return assembly.views(handle, AlertListQuery.rows(handle, sites, filter, after, limit));
    }

    @Override
    public Optional<AlertView> alert(UUID id) {
        return database.jdbi().inTransaction(handle -> {
            List<ViewAssembly.Named> rows = handle.createQuery(ViewAssembly.SELECT + "where a.id = :id")
                    .bind("id", id)
                    .map((row, context) -> new ViewAssembly.Named(StoredAlert.of(row), row.getString("site_name")))
                    .list();
            return assembly.views(handle, rows).stream().findFirst();
        });
    }

    @Override
    public Optional<Finding> raised(UUID alert) {
        return database.jdbi()
                .withHandle(handle -> handle.createQuery(
                                "select finding from finding_revision where alert = :alert order by revision limit 1")
                        .bind("alert", alert)
                        .map((row, context) ->
                                FindingJson.decode(row.getString(1).getBytes(StandardCharsets.UTF_8)))
                        .findOne());
    }

    @Override
    public List<Hold> holds() {
        return database.jdbi().withHandle(HoldStore::all);
    }

    @Override
    public Optional<Hold> hold(UUID id) {
        return database.jdbi().withHandle(handle -> HoldStore.one(handle, id));
    }

    @Override
    public List<CaseView> cases(SiteScope sites, boolean openOnly, Optional<ListPlace> after, int limit) {
        return database.jdbi().inTransaction(handle -> cases.list(handle, sites, openOnly, after, limit));
    }

    @Override
    public Optional<CaseView> caseOf(UUID id) {
        return database.jdbi().inTransaction(handle -> cases.one(handle, id));
    }
}
