package dev.rimecast.alerts.visits;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.life.Findings;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.AlertViews;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.alerts.visits.plan.Need;
import dev.rimecast.alerts.visits.plan.PartLeads;
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
import org.junit.jupiter.api.Test;

/** The day from which on a case can be worked on, by the parts that its advice names. */
class NeedReaderTest {
    /** The day of {@link Findings#NOON}. */
    private static final LocalDate OPENED = LocalDate.of(2026, 5, 4);

    private static final PartLeads LEADS = new PartLeads(Map.of("Fan motor", 2, "Drain pump", 3), true);

    private static LocalDate earliest(Finding finding, PartLeads leads) {
        AlertView alert = AlertViews.unseen(finding);
        CaseView view = new CaseView(
                new UUID(0, 1),
                finding.site(),
                "Site A",
                Optional.empty(),
                finding.machine(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Findings.NOON,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                List.of(alert),
                List.of(),
                List.of());
        List<Need> needs = new NeedReader(views(view), new BooksInForce(), leads, PlanSettings.STANDARD)
                .read(Findings.NOON)
                .needs();
        assertThat(needs).hasSize(1);
        return needs.get(0).earliest();
    }

    /** Knows one case, and nothing else. */
    private static Views views(CaseView only) {
        return (Views) Proxy.newProxyInstance(
                Views.class.getClassLoader(),
                new Class<?>[] {Views.class},
                (proxy, method, arguments) -> method.getName().equals("cases") ? List.of(only) : List.of());
    }

    @Test
    void case_fanToBeReplaced_waitsForTheMotor() {
        Finding fan = Findings.withCause(
                Findings.raised("ice-1", Condition.RISING_CONDENSING_TEMPERATURE, Findings.NOON), Cause.FAN_FAILED);

        assertThat(earliest(fan, LEADS)).isEqualTo(OPENED.plusDays(2));
        assertThat(earliest(fan, PartLeads.IN_STOCK)).isEqualTo(OPENED);
    }

    @Test
    void case_partThatMayFit_countsToo() {
        Finding pump = Findings.withCause(
                Findings.raised("ice-1", Condition.DRAIN_PUMP_OVERRUN, Findings.NOON), Cause.DRAIN_PUMP_FAILED);

        assertThat(earliest(pump, LEADS)).isEqualTo(OPENED.plusDays(3));
    }

    @Test
    void case_stoppedByProtection_takesAFanMotorByTheSameName() {
        Finding stopped = Findings.raised("ice-1", Condition.STOPPED_BY_PROTECTION, Findings.NOON);

        assertThat(earliest(stopped, new PartLeads(Map.of("Fan motor", 2), true)))
                .isEqualTo(OPENED.plusDays(2));
    }
}
