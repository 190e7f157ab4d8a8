package dev.rimecast.alerts.visits;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.alerts.visits.plan.PartOrder;
import dev.rimecast.alerts.visits.plan.Waiting;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.Test;

/** Two processes with the pages; planning is the turn of one of them. */
class SeveralDesksTest {
    private final VisitStore store = new MemoryVisitStore();
    private final Firm planning = new Firm(store, IceAhead.UNKNOWN, Firm.team(), () -> "planning|");
    private final Firm other = new Firm(store, IceAhead.UNKNOWN, Firm.team(), () -> "changed|");

    private void open(String id, Set<String> skills) {
        for (Firm each : List.of(planning, other)) {
            String need = each.open(id, "s0", Firm.TODAY, Optional.of(Firm.TODAY.plusDays(3)), skills)
                    .id();
            each.orders.put(need, List.of(new PartOrder("Part of " + id, 2, true, Firm.TODAY)));
        }
    }

    @Test
    void processThatDoesNotPlan_showsWhatWaitsAndWhatToOrder_andWritesNothing() {
        open("a", Set.of("appliance"));
        open("b", Set.of("welding"));
        planning.desk.plan();
        List<VisitView> planned = planning.desk.list(SiteScope.EVERY, Filter.OPEN);

        assertThat(other.desk.list(SiteScope.EVERY, Filter.OPEN))
                .isEqualTo(planned)
                .singleElement()
                .satisfies(visit -> assertThat(visit.orders()).hasSize(1));
        assertThat(other.desk.waiting(SiteScope.EVERY))
                .isEqualTo(planning.desk.waiting(SiteScope.EVERY))
                .extracting(Waiting::reason)
                .containsExactly(Waiting.Reason.IMPOSSIBLE);
        assertThat(other.desk.one(planned.get(0).id())).contains(planned.get(0));
        assertThat(planning.desk.list(SiteScope.EVERY, Filter.OPEN)).isEqualTo(planned);
    }

    @Test
    void acceptedInOneProcess_isSoInTheOther() {
        open("a", Set.of("appliance"));
        planning.desk.plan();
        UUID id = planning.desk.list(SiteScope.EVERY, Filter.OPEN).get(0).id();

        other.desk.accept(id, 0, new Person("Ada"), "");

        assertThat(planning.desk.one(id)).isEqualTo(other.desk.one(id));
        assertThat(planning.desk.one(id).orElseThrow().orders()).hasSize(1);
    }
}
