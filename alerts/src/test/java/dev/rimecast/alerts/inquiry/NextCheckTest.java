package dev.rimecast.alerts.inquiry;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.life.Findings;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.AlertViews;
import dev.rimecast.alerts.view.SiteCheckView.Check;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class NextCheckTest {
    private static final Inquiry ASKS = new Inquiry(List.of(), Optional.empty(), List.of("air-blows", "air-filter"));

    @Test
    void of_machineThatMakesIce_asksTheBestQuestion() {
        Optional<Check> check = NextCheck.of(List.of(alert(Stage.EARLY, ASKS)), List.of());

        assertThat(check.orElseThrow().id()).isEqualTo("air-blows");
    }

    @Test
    void of_machineThatStands_isNotAskedWhatOnlyARunningOneCanAnswer() {
        Optional<Check> check = NextCheck.of(List.of(alert(Stage.STOPPED, ASKS)), List.of());

        assertThat(check.orElseThrow().id()).isEqualTo("air-filter");
    }

    @Test
    void of_anotherAlertSaysThatItStands_holdsForTheMachine() {
        Optional<Check> check =
                NextCheck.of(List.of(alert(Stage.EARLY, ASKS), alert(Stage.STOPPED, Inquiry.NONE)), List.of());

        assertThat(check.orElseThrow().id()).isEqualTo("air-filter");
    }

    private static AlertView alert(Stage stage, Inquiry inquiry) {
        Finding plain = Findings.finding(
                "ice-1",
                Condition.RISING_CONDENSING_TEMPERATURE,
                Findings.NOON,
                1,
                Step.RAISED,
                stage,
                Priority.MEDIUM);
        Finding finding = Findings.withInquiry(plain, inquiry);
        return AlertViews.unseen(finding);
    }
}
