package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.life.Findings;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.alerts.view.Visits.MoveEffect;
import dev.rimecast.alerts.view.Visits.Target;
import dev.rimecast.alerts.visits.plan.Need;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.log.Topics;
import java.time.Duration;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** From findings to a visit that is done, with everything real between. */
class VisitsIT extends StageBench {
    private static final Person ADA = new Person("Ada");
    private static final LocalDate MONDAY = LocalDate.of(2026, 5, 4);

    @Test
    void findingsAndCare_becomeOneVisit_whichIsMovedAndDoneByWhatIsReported() throws Exception {
        know(register("m-1", "m-2"));
        engines.send(Findings.withCause(
                Findings.raised("m-1", Condition.RISING_CONDENSING_TEMPERATURE, NOON), Cause.AIRFLOW_RESTRICTED));
        engines.send(Findings.raised("m-2", Condition.CLEANING_DUE, NOON.plusSeconds(5)));
        engines.flush();
        await().until(() -> engines.isTakenIn(Topics.FINDINGS));

        VisitView planned = await().until(
                        this::open, all -> all.size() == 1 && all.get(0).needs().size() == 2)
                .get(0);
        assertThat(planned.state()).isEqualTo(State.PROPOSED);
        Need rising = planned.needs().get(1).need();
        assertThat(planned.needs().get(0).need().kind()).isEqualTo(Need.Kind.CARE);
        assertThat(rising.title()).startsWith("Condensing temperature is rising: ");
        assertThat(rising.siteCanCheck()).isTrue();
        assertThat(rising.skills()).containsExactly("appliance");
        assertThat(rising.latest()).contains(MONDAY.plusDays(14));
        assertThat(stage.visits().means().teamKnown()).isFalse();

        MoveEffect effect =
                stage.visits().effect(planned.id(), to(MONDAY.plusDays(15))).orElseThrow();
        assertThat(effect.missed()).hasSize(1 + 1);
        assertThat(effect.ice()).isEqualTo("Nobody can tell what this means for the site's ice.");

        stage.visits().move(planned.id(), planned.sequence(), ADA, to(MONDAY.plusDays(1)), "");
        assertThat(open())
                .extracting(VisitView::state, VisitView::day)
                .containsExactly(org.assertj.core.groups.Tuple.tuple(State.ACCEPTED, MONDAY.plusDays(1)));

        now = NOON.plus(Duration.ofHours(22));
        stage.siteEvents().report(new Happened(now, Optional.of("m-1"), EventKind.VISIT, "", "Bo", "J-7"), "site-a");
        VisitView done = await().until(
                        () -> stage.visits().one(planned.id()).orElseThrow(), visit -> visit.state() == State.DONE);
        assertThat(done.changedBy()).isEqualTo("Bo");
        assertThat(open()).as("it is left alone until the next cycles tell").isEmpty();
    }

    private static Target to(LocalDate day) {
        return new Target(day, Optional.empty(), Optional.empty());
    }

    private List<VisitView> open() {
        return stage.visits().list(SiteScope.EVERY, Filter.OPEN);
    }
}
