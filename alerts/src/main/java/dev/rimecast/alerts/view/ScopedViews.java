package dev.rimecast.alerts.view;

import dev.rimecast.alerts.view.MachineView.FleetRow;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.proof.Proof;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * What somebody may see: the one place where a scope becomes what is left out. What is on another site is not there:
 * nothing tells it from what does not exist. Where a number of rows is asked for, they are counted within the scope.
 */
public final class ScopedViews implements Views {
    private final Views all;
    private final SiteScope scope;

    private ScopedViews(Views all, SiteScope scope) {
        this.all = all;
        this.scope = scope;
    }

    public static Views of(Views all, SiteScope scope) {
        return scope.isEvery() ? all : new ScopedViews(all, scope);
    }

    @Override
    public List<FleetRow> fleet() {
        return all.fleet().stream()
                .filter(row -> scope.includes(row.site()))
                .map(this::withoutForeign)
                .toList();
    }

    /** A machine that has moved here may still lead with an alert of where it was. */
    private FleetRow withoutForeign(FleetRow row) {
        if (row.leading().filter(alert -> !sees(alert)).isEmpty()) {
            return row;
        }
        return new FleetRow(
                row.machine(),
                row.site(),
                row.siteName(),
                row.room(),
                row.phase(),
                row.lastReadingAt(),
                Optional.empty(),
                0,
                Optional.empty(),
                Optional.empty());
    }

    private boolean sees(AlertView alert) {
        return scope.includes(alert.finding().site());
    }

    @Override
    public List<Site> sites() {
        return all.sites().stream().filter(site -> scope.includes(site.id())).toList();
    }

    @Override
    public Optional<MachineView> machine(String id) {
        return all.machine(id)
                .filter(view -> scope.includes(view.machine().site()))
                .map(view -> new MachineView(
                        view.machine(),
                        view.site(),
                        view.lastReadingAt(),
                        view.now(),
                        view.openAlerts().stream().filter(this::sees).toList(),
                        view.outOfService().filter(hold -> scope.includes(hold.site()))));
    }

    @Override
    public List<RollupPoint> temperatures(String machine, Instant from, Instant to, Duration bucket) {
        return machine(machine).isPresent() ? all.temperatures(machine, from, to, bucket) : List.of();
    }

    @Override
    public List<TracePoint> trace(String machine, Instant from, Instant to) {
        return machine(machine).isPresent() ? all.trace(machine, from, to) : List.of();
    }

    @Override
    public List<Cycle> cycles(String machine, Instant from, Instant to) {
        return machine(machine).isPresent() ? all.cycles(machine, from, to) : List.of();
    }

    /** A machine that has moved here brings what was done to it elsewhere. */
    @Override
    public List<ProofView> proofs(String machine, int limit) {
        return machine(machine).isPresent() ? all.proofs(machine, limit) : List.of();
    }

    @Override
    public List<Proof> notHeld(SiteScope sites, Instant from, Instant to, int limit) {
        return all.notHeld(sites.and(scope), from, to, limit).stream()
                .filter(proof -> scope.includes(proof.site()))
                .toList();
    }

    @Override
    public List<GatewayView> gateways() {
        return all.gateways().stream()
                .filter(gateway -> scope.includes(gateway.site()))
                .toList();
    }

    @Override
    public List<AlertView> alerts(SiteScope sites, AlertFilter filter, Optional<ListPlace> after, int limit) {
        return all.alerts(sites.and(scope), filter, after, limit).stream()
                .filter(this::sees)
                .toList();
    }

    @Override
    public Optional<AlertView> alert(UUID id) {
        return all.alert(id).filter(this::sees);
    }

    @Override
    public Optional<Finding> raised(UUID alert) {
        return alert(alert).isPresent() ? all.raised(alert) : Optional.empty();
    }

    @Override
    public List<CaseView> cases(SiteScope sites, boolean openOnly, Optional<ListPlace> after, int limit) {
        return all.cases(sites.and(scope), openOnly, after, limit).stream()
                .filter(view -> scope.includes(view.site()))
                .toList();
    }

    @Override
    public Optional<CaseView> caseOf(UUID id) {
        return all.caseOf(id).filter(view -> scope.includes(view.site()));
    }

    @Override
    public List<Hold> holds() {
        return all.holds().stream().filter(hold -> scope.includes(hold.site())).toList();
    }

    @Override
    public Optional<Hold> hold(UUID id) {
        return all.hold(id).filter(hold -> scope.includes(hold.site()));
    }
}
