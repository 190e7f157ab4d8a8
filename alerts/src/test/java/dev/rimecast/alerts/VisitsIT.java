package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.life.Findings;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.alerts.view.Visits.MoveEffect;
import dev.rimecast.alerts.view.Visits.Target;
import dev.rimecast.alerts.visits.plan.Need;
import dev.rimecast.alerts.work.Deed;
import dev.rimecast.alerts.work.Done;
import dev.rimecast.alerts.work.Found;
import dev.rimecast.alerts.work.Work;
import dev.rimecast.alerts.work.WorkReport;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.log.Topics;
import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
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

    @Test
    void report_thatNamesAVisit_isTheEndOfIt_alsoBeforeItsDay() throws Exception {
        know(register("m-1", "m-2", "m-3"));
        engines.send(Findings.withCause(Findings.raised("m-3", Condition.LONG_FREEZE, now), Cause.SCALE));
        engines.flush();
        VisitView planned = await().until(() -> of("m-3"), Optional::isPresent).get();
        VisitView accepted =
                ((Visits.Outcome.Done) stage.visits().accept(planned.id(), planned.sequence(), ADA, "")).visit();
        assertThat(accepted.day()).isAfter(now.atZone(ZoneOffset.UTC).toLocalDate());

        WorkReport wrong = report(Optional.of(UUID.randomUUID()));
        assertThat(stage.work().report(SiteScope.EVERY, "m-3", wrong, ADA))
                .isEqualTo(new Work.Outcome.Refused("visit", "is none to the machine's site"));
        stage.work().report(SiteScope.EVERY, "m-3", report(Optional.of(planned.id())), ADA);
        stage.visits().plan();

        VisitView done = stage.visits().one(planned.id()).orElseThrow();
        assertThat(done.state()).isEqualTo(State.DONE);
        assertThat(done.changedBy()).isEqualTo("Bo");
        assertThat(of("m-3"))
                .as("nobody is sent again before the next cycles tell")
                .isEmpty();
    }

    private WorkReport report(Optional<UUID> visit) {
        return new WorkReport(
                UUID.randomUUID(),
                now,
                new Found.ACause(Cause.SCALE),
                Optional.empty(),
                List.of(Done.of(Deed.CLEANED)),
                Optional.empty(),
                "",
                "",
                "Bo",
                "",
                visit,
                Optional.empty());
    }

    private Optional<VisitView> of(String machine) {
        return open().stream()
                .filter(visit -> visit.needs().stream()
                        .anyMatch(planned -> planned.need().machines().contains(machine)))
                .findFirst();
    }

    private static Target to(LocalDate day) {
        return new Target(day, Optional.empty(), Optional.empty());
    }

    private List<VisitView> open() {
        return stage.visits().list(SiteScope.EVERY, Filter.OPEN);
    }
}
