package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static dev.rimecast.alerts.life.Findings.raised;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.Actions;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.ScopedActions;
import dev.rimecast.alerts.view.ScopedViews;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Scopes on a real database: rows are counted within the scope, and nothing of another site can be reached. */
class ScopeIT extends StageBench {
    private static final Person ADA = new Person("ada");
    private static final SiteScope HERE = SiteScope.of(List.of("site-a"));
    private static final SiteScope ELSEWHERE = SiteScope.of(List.of("site-z"));

    private final Set<Change> changes = ConcurrentHashMap.newKeySet();
    private final Finding finding = raised("ice-1", Condition.LONG_FREEZE, NOON);

    @BeforeAll
    void start() throws Exception {
        know(register("ice-1", "ice-2"));
        stage.changes().subscribe(changes::add);
        engines.send(finding);
        engines.flush();
        await().until(() -> stage.views().alert(finding.id()).isPresent());
    }

    @Test
    void views_ofTheSite_showItAndThoseOfAnotherNothing() {
        Views here = ScopedViews.of(stage.views(), HERE);
        Views elsewhere = ScopedViews.of(stage.views(), ELSEWHERE);
        Instant from = NOON.minusSeconds(3600);

        assertThat(here.fleet()).isEqualTo(stage.views().fleet()).hasSize(2);
        assertThat(elsewhere.fleet()).isEmpty();
        assertThat(here.sites()).isNotEmpty();
        assertThat(elsewhere.sites()).isEmpty();
        assertThat(here.machine("ice-1")).isPresent();
        assertThat(elsewhere.machine("ice-1")).isEmpty();
        assertThat(here.alerts(AlertFilter.EVERY, 10)).hasSize(1);
        assertThat(elsewhere.alerts(AlertFilter.EVERY, 10)).isEmpty();
        assertThat(elsewhere.alerts(AlertFilter.openOf("ice-1"), 10)).isEmpty();
        assertThat(elsewhere.alert(finding.id())).isEmpty();
        assertThat(here.cases(false, 10)).hasSize(1);
        assertThat(elsewhere.cases(false, 10)).isEmpty();
        assertThat(elsewhere.caseOf(here.cases(false, 10).get(0).id())).isEmpty();
        assertThat(elsewhere.trace("ice-1", from, NOON)).isEmpty();
        assertThat(elsewhere.temperatures("ice-1", from, NOON, Duration.ofMinutes(5)))
                .isEmpty();
        assertThat(elsewhere.cycles("ice-1", from, NOON)).isEmpty();
    }

    @Test
    void lists_withALimit_countOnlyWhatIsSeen() {
        assertThat(stage.views().alerts(ELSEWHERE, AlertFilter.EVERY, Optional.empty(), 1))
                .isEmpty();
        assertThat(stage.views().alerts(HERE, AlertFilter.EVERY, Optional.empty(), 1))
                .hasSize(1);
        assertThat(stage.views().cases(ELSEWHERE, false, Optional.empty(), 1)).isEmpty();
        assertThat(stage.views().cases(HERE, false, Optional.empty(), 1)).hasSize(1);
    }

    @Test
    void actions_fromElsewhere_findNothingAndChangeNothing() {
        Actions elsewhere = ScopedActions.of(stage.actions(), stage.views(), ELSEWHERE);
        Actions here = ScopedActions.of(stage.actions(), stage.views(), HERE);
        AlertView before = stage.views().alert(finding.id()).orElseThrow();
        CaseView problem = stage.views().cases(false, 10).get(0);
        Action.TakeOutOfService out = new Action.TakeOutOfService("r", "p");

        assertThat(elsewhere.act(finding.id(), before.version(), ADA, new Action.Acknowledge("")))
                .isEqualTo(new Actions.Outcome.NoSuchAlert());
        assertThat(elsewhere.takeOutOfService("ice-2", ADA, out)).isEqualTo(new Actions.HoldOutcome.NotFound());
        assertThat(elsewhere.closeCase(problem.id(), ADA, "r")).isEqualTo(new Actions.CaseOutcome.NotFound());
        Actions.HoldOutcome held = here.takeOutOfService("ice-2", ADA, out);
        UUID hold = ((Actions.HoldOutcome.Done) held).hold().id();
        assertThat(elsewhere.endHold(hold, ADA, "r")).isEqualTo(new Actions.HoldOutcome.NotFound());
        assertThat(ScopedViews.of(stage.views(), ELSEWHERE).holds()).isEmpty();
        assertThat(here.endHold(hold, ADA, "r")).isInstanceOf(Actions.HoldOutcome.Done.class);
        assertThat(elsewhere.endHold(hold, ADA, "r"))
                .as("one that has ended")
                .isEqualTo(new Actions.HoldOutcome.NotFound());
        assertThat(stage.views().alert(finding.id())).contains(before);
    }

    @Test
    void changes_ofEveryKind_nameTheSite() {
        await().until(() -> changes.contains(
                new Change("alert", "site-a", "ice-1", finding.id().toString())));
        assertThat(changes).allSatisfy(change -> assertThat(change.site()).isEqualTo("site-a"));
    }
}
