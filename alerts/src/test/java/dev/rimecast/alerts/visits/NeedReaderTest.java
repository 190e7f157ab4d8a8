package dev.rimecast.alerts.visits;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.rimecast.alerts.life.Findings;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.view.AlertViews;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.alerts.visits.plan.Need;
import dev.rimecast.alerts.visits.plan.PartLeads;
import dev.rimecast.alerts.visits.plan.PartOrder;
import dev.rimecast.alerts.visits.plan.PlanSettings;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import java.lang.reflect.Proxy;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The day from which on a case can be worked on, by the parts that its advice names. */
class NeedReaderTest {
    /** The day of {@link Findings#NOON}. */
    private static final LocalDate OPENED = LocalDate.of(2026, 5, 4);

    private static final PartLeads LEADS = new PartLeads(Map.of("Fan motor", 2, "Drain pump", 3), true);

    private static LocalDate earliest(Finding finding, PartLeads leads) {
        return only(leads, caseOf(finding)).needs().get(0).earliest();
    }

    private static CaseView caseOf(Finding... findings) {
        return new CaseView(
                new UUID(0, 1),
                findings[0].site(),
                "Site A",
                Optional.empty(),
                findings[0].machine(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Findings.NOON,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Stream.of(findings).map(AlertViews::unseen).toList(),
                List.of(),
                List.of());
    }

    private static NeedSource.Found only(PartLeads leads, CaseView view) {
        return only(leads, "cases", view);
    }

    /** @param list what the views are asked for */
    private static NeedSource.Found only(PartLeads leads, String list, Object view) {
        NeedSource.Found found =
                new NeedReader(views(list, view), new BooksInForce(), leads, PlanSettings.STANDARD).read(Findings.NOON);
        assertThat(found.needs()).hasSize(1);
        return found;
    }

    /** Knows one case or alert, and nothing else. */
    private static Views views(String list, Object only) {
        return (Views) Proxy.newProxyInstance(
                Views.class.getClassLoader(),
                new Class<?>[] {Views.class},
                (proxy, method, arguments) -> method.getName().equals(list) ? List.of(only) : List.of());
    }

    @Test
    void case_fanToBeReplaced_waitsForTheMotor() {
        Finding fan = Findings.withCause(
                Findings.raised("ice-1", Condition.RISING_CONDENSING_TEMPERATURE, Findings.NOON), Cause.FAN_FAILED);

        assertThat(earliest(fan, LEADS)).isEqualTo(OPENED.plusDays(2));
        assertThat(earliest(fan, PartLeads.IN_STOCK)).isEqualTo(OPENED);
    }

    @Test
    void case_drainPumpToBeReplaced_waitsForThePump() {
        Finding pump = Findings.withCause(
                Findings.raised("ice-1", Condition.DRAIN_PUMP_OVERRUN, Findings.NOON), Cause.DRAIN_PUMP_FAILED);

        assertThat(earliest(pump, LEADS)).isEqualTo(OPENED.plusDays(3));
    }

    /** Common practice: where cleaning or finding out comes first, somebody goes with what is in the van. */
    @ParameterizedTest
    @EnumSource(
            value = Condition.class,
            names = {"STOPPED_BY_PROTECTION", "NOT_MAKING_ICE", "HIGH_CONDENSING_TEMPERATURE"})
    void case_partOnlyCarriedAlong_waitsForNothingAndSaysHowLongItTakes(Condition condition) {
        NeedSource.Found found = only(LEADS, caseOf(Findings.raised("ice-1", condition, Findings.NOON)));

        assertThat(found.needs().get(0).earliest()).isEqualTo(OPENED);
        assertThat(found.needs().get(0).parts()).anyMatch(part -> part.startsWith("Fan motor"));
        assertThat(found.orders().get(found.needs().get(0).id()))
                .filteredOn(order -> order.part().startsWith("Fan motor"))
                .extracting(PartOrder::days, PartOrder::isNeeded)
                .containsExactly(tuple(2, false));
    }

    @Test
    void case_dirtyCondenser_waitsForNoFanMotor() {
        Finding dirty = Findings.withCause(
                Findings.raised("ice-1", Condition.RISING_CONDENSING_TEMPERATURE, Findings.NOON),
                Cause.AIRFLOW_RESTRICTED);

        assertThat(earliest(dirty, LEADS)).isEqualTo(OPENED);
    }

    /** People join alerts, and causes wander: whoever goes can do all of it. */
    @Test
    void case_ofSeveralCauses_takesSkillsAndPartsOfAllAndTheLongestLead() {
        Finding dirty = Findings.withCause(
                Findings.raised("ice-1", Condition.RISING_CONDENSING_TEMPERATURE, Findings.NOON),
                Cause.AIRFLOW_RESTRICTED);
        Finding leak =
                Findings.withCause(Findings.raised("ice-1", Condition.SLOW_PULL_DOWN, Findings.NOON), Cause.LOW_CHARGE);
        PartLeads leads = new PartLeads(Map.of("Fan motor", 9, "Leak test kit", 3), true);

        Need need = only(leads, caseOf(dirty, leak)).needs().get(0);

        assertThat(need.skills()).containsExactlyInAnyOrder("appliance", "refrigeration");
        assertThat(need.parts())
                .contains(
                        "Coil brush and coil cleaner, if it is cooled by air or its condenser stands" + " elsewhere",
                        "Leak test kit");
        assertThat(need.parts()).doesNotHaveDuplicates();
        assertThat(need.earliest()).isEqualTo(OPENED.plusDays(3));
        assertThat(need.minutes()).isEqualTo(180);
        assertThat(need.siteCanCheck()).isFalse();
        assertThat(only(leads, caseOf(dirty)).needs().get(0).siteCanCheck()).isTrue();
    }

    @Test
    void care_lampThatTakesDays_isDoneOnceItIsThere() {
        Finding lamp = Findings.raised("ice-1", Condition.LAMP_DUE, Findings.NOON);
        PartLeads leads = new PartLeads(Map.of("Ultraviolet lamp as fits the machine", 5), true);

        NeedSource.Found found = only(leads, "alerts", AlertViews.unseen(lamp));

        Need need = found.needs().get(0);
        assertThat(need.earliest()).isEqualTo(OPENED.plusDays(5));
        assertThat(need.since().toLocalDate()).as("due").isEqualTo(OPENED);
        assertThat(need.latest()).contains(OPENED.plusDays(PlanSettings.STANDARD.careGraceDays()));
        assertThat(found.orders().get(need.id()))
                .containsExactly(new PartOrder("Ultraviolet lamp as fits the machine", 5, true, OPENED));
    }
}
