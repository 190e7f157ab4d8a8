package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.alerts.visits.IceAhead;
import dev.rimecast.alerts.visits.MemoryVisitStore;
import dev.rimecast.alerts.visits.NeedReader;
import dev.rimecast.alerts.visits.VisitDesk;
import dev.rimecast.alerts.visits.plan.Engineer;
import dev.rimecast.alerts.visits.plan.PartLeads;
import dev.rimecast.alerts.visits.plan.PlanSettings;
import dev.rimecast.alerts.visits.plan.Team;
import java.time.DayOfWeek;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/** The real planning over the fleet in memory, with the engineers of an invented firm; a site loses 12 kg a day. */
final class FakeVisits {
    private static final double KG_PER_HOUR = 0.5;

    private FakeVisits() {}

    private static final class Melting implements IceAhead {
        @Override
        public OptionalDouble kgShort(String site, Instant now, Instant until) {
            return OptionalDouble.of(KG_PER_HOUR * Duration.between(now, until).toHours());
        }

        @Override
        public Optional<Instant> runsOut(String site, Instant now) {
            return Optional.of(now.plus(Duration.ofHours(5)));
        }
    }

    static Visits of(FakeFleet fleet, FakeChanges changes, InstantSource clock) {
        PartLeads parts = new PartLeads(Map.of("Fan motor", 2), true);
        VisitDesk desk = new VisitDesk(
                new MemoryVisitStore(),
                fleet::sites,
                new NeedReader(fleet, new BooksInForce(), parts, PlanSettings.STANDARD),
                new Team(
                        List.of(
                                new Engineer(
                                        "Noa",
                                        EnumSet.allOf(DayOfWeek.class),
                                        Optional.of(
                                                Set.of("appliance", "electrical", "plumbing", "hygiene", "network")),
                                        Optional.empty(),
                                        480),
                                new Engineer(
                                        "Samir",
                                        EnumSet.allOf(DayOfWeek.class),
                                        Optional.empty(),
                                        Optional.empty(),
                                        480)),
                        true),
                true,
                PlanSettings.STANDARD,
                new Melting(),
                clock,
                () -> "",
                all -> all.forEach(each -> changes.publish(each.kind(), each.site(), each.machine(), each.id())));
        desk.plan();
        return desk;
    }
}
