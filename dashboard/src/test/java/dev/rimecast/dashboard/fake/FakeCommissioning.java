package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.acceptance.AcceptanceView;
import dev.rimecast.alerts.advice.Checklist;
import dev.rimecast.alerts.advice.CommissioningBook;
import dev.rimecast.alerts.advice.MachineKind;
import dev.rimecast.alerts.view.MachineView;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.Commissioned;
import dev.rimecast.alerts.work.Commissioned.Stored;
import dev.rimecast.alerts.work.Commissioning;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** Records of commissioning in memory, by the same rules. */
final class FakeCommissioning implements Commissioning {
    private final FakeFleet fleet;
    private final InstantSource clock;
    private final CommissioningBook book = CommissioningBook.standard();
    private final Map<UUID, Stored> records = new LinkedHashMap<>();

    FakeCommissioning(FakeFleet fleet, InstantSource clock) {
        this.fleet = fleet;
        this.clock = clock;
    }

    @Override
    public synchronized Outcome commission(SiteScope sites, String machine, Commissioned record, Person who) {
        Optional<MachineView> view = fleet.machine(machine)
                .filter(known -> sites.includes(known.site().id()));
        if (view.isEmpty()) {
            return new Outcome.NotFound("No machine " + machine + " in the register.");
        }
        Stored known = records.get(record.id());
        if (known != null) {
            return known.machine().equals(machine)
                    ? new Outcome.Known(known)
                    : new Outcome.Refused("id", "is that of a record of another machine");
        }
        Instant now = clock.instant().truncatedTo(ChronoUnit.MILLIS);
        Checklist list = book.of(MachineKind.of(view.get().machine()));
        Optional<Outcome> wrong =
                record.wrong(list, now).map(each -> new Outcome.Refused(each.member(), each.reason()));
        if (wrong.isPresent()) {
            return wrong.get();
        }
        Stored stored = new Stored(record.wordedBy(list), view.get().site().id(), machine, who.name(), now);
        records.put(record.id(), stored);
        return new Outcome.Added(stored);
    }

    @Override
    public List<AcceptanceView> acceptances(SiteScope sites, String machine) {
        return fleet.machine(machine)
                .filter(known -> sites.includes(known.site().id()))
                .map(known -> FakeAcceptances.of(known.machine(), clock.instant()))
                .orElse(List.of());
    }

    @Override
    public synchronized List<Stored> commissionings(SiteScope sites, String machine) {
        return records.values().stream()
                .filter(stored -> stored.machine().equals(machine) && sites.includes(stored.site()))
                .sorted(Comparator.comparing((Stored stored) -> stored.record().at())
                        .reversed())
                .toList();
    }
}
