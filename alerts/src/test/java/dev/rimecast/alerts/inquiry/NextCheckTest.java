package dev.rimecast.alerts.inquiry;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.life.Findings;
import dev.rimecast.alerts.view.Advice;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.AlertViews;
import dev.rimecast.alerts.view.SiteCheckView.Check;
import dev.rimecast.alerts.view.SiteLinkView.Answered;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Phase;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

class NextCheckTest {
    private static final Inquiry ASKS = new Inquiry(List.of(), Optional.empty(), List.of("air-blows", "air-filter"));

    @Test
    void of_machineThatMakesIce_asksTheBestQuestion() {
        Optional<Check> check = NextCheck.of(List.of(alert(Stage.EARLY, ASKS)), List.of(), false);

        assertThat(check.orElseThrow().id()).isEqualTo("air-blows");
    }

    @Test
    void of_machineThatStands_isNotAskedWhatOnlyARunningOneCanAnswer() {
        Optional<Check> check = NextCheck.of(List.of(alert(Stage.STOPPED, ASKS)), List.of(), false);

        assertThat(check.orElseThrow().id()).isEqualTo("air-filter");
    }

    @Test
    void of_anotherAlertSaysThatItStands_holdsForTheMachine() {
        Optional<Check> check =
                NextCheck.of(List.of(alert(Stage.EARLY, ASKS), alert(Stage.STOPPED, Inquiry.NONE)), List.of(), false);

        assertThat(check.orElseThrow().id()).isEqualTo("air-filter");
    }

    /** Its bin is full, or it is closed: no alert says so. */
    @Test
    void of_machineThatIsKnownToStand_isNotAskedWhatOnlyARunningOneCanAnswer() {
        Optional<Check> check = NextCheck.of(List.of(alert(Stage.EARLY, ASKS)), List.of(), true);

        assertThat(check.orElseThrow().id()).isEqualTo("air-filter");
    }

    @Test
    void of_adviceToAMachineThatStands_leavesOutWhatOnlyARunningOneCanTell() {
        AlertView fan = AlertViews.unseen(
                Findings.withCause(alert(Stage.EARLY, Inquiry.NONE).finding(), Cause.FAN_FAILED));

        assertThat(NextCheck.of(List.of(fan), List.of(), false).orElseThrow().ask())
                .startsWith("Can you feel air at the outlet grille while it makes ice?");
        assertThat(NextCheck.of(List.of(fan), List.of(), true).orElseThrow().ask())
                .isEqualTo("Is anything stuck in the grille?");
    }

    /** What says that it is about a machine that makes ice is asked of such a machine only. */
    @Test
    void advice_thatSpeaksOfMakingIce_saysThatItNeedsARunningMachine() {
        for (Cause cause : Cause.values()) {
            AlertView alert = AlertViews.unseen(
                    Findings.withCause(alert(Stage.EARLY, Inquiry.NONE).finding(), cause));
            for (Advice.SiteCheck check : alert.advice().siteChecks()) {
                boolean speaksOfIt = check.ask().contains("while it makes ice")
                        && !check.ask().contains("or while the bin");
                assertThat(!speaksOfIt || check.needsRunning()).as(check.ask()).isTrue();
            }
        }
    }

    @Test
    void phase_ofAFullBin_isRest_andFixedTimesAreNot() {
        assertThat(Stream.of(Phase.values()).filter(AtRest::isRest))
                .containsExactly(Phase.WAIT, Phase.IDLE, Phase.CLEAN, Phase.STOPPED, Phase.OFF);
    }

    /** Only what the site can put right by hand starts the count of good cycles, and only where it was not in order. */
    @Test
    void of_adviceThatMends_isDoneOrWasInOrder() {
        Check check = advised(Cause.WATER_SUPPLY_LOW, 0);

        assertThat(check.ask()).isEqualTo("Is the stop tap to the machine fully open?");
        assertThat(says(check)).containsExactly("done true", "in-order false", "cannot false");
    }

    @Test
    void of_adviceThatAsksYesOrNo_tellsSoAndMendsNothing() {
        Check check = advised(Cause.WATER_SUPPLY_LOW, 1);

        assertThat(check.ask()).isEqualTo("Does a cold tap nearby run as strongly as usual?");
        assertThat(says(check)).containsExactly("yes false", "no false", "cannot false");
    }

    @Test
    void of_adviceThatAsksForMoreThanYes_wasLookedAt() {
        Check check = advised(Cause.WATER_SUPPLY_LOW, 2);

        assertThat(check.ask()).startsWith("Is there a filter in the supply, and what date");
        assertThat(says(check)).containsExactly("looked false", "cannot false");
    }

    /** The next check of the advice about a cause, after so many were answered. */
    private static Check advised(Cause cause, int answered) {
        AlertView alert = AlertViews.unseen(
                Findings.withCause(alert(Stage.EARLY, Inquiry.NONE).finding(), cause));
        List<Answered> before = new ArrayList<>();
        for (int i = 1; i <= answered; i++) {
            before.add(new Answered(cause.code() + '.' + i, "", "", false, Findings.NOON));
        }
        return NextCheck.of(List.of(alert), before, false).orElseThrow();
    }

    private static List<String> says(Check check) {
        return check.choices().stream()
                .map(choice -> choice.answer() + ' ' + choice.putsRight())
                .toList();
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
