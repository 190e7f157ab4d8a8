package dev.rimecast.alerts.inquiry;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.life.Findings;
import dev.rimecast.alerts.store.SiteLinkStore.Row;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.AlertViews;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.SiteCheckView;
import dev.rimecast.alerts.view.SiteCheckView.Check;
import dev.rimecast.alerts.view.SiteLinkView.Answered;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Duration;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class LinkStandingTest {
    private static final AlertView FAN = AlertViews.unseen(Findings.withCause(
            Findings.finding(
                    "ice-1",
                    Condition.RISING_CONDENSING_TEMPERATURE,
                    Findings.NOON,
                    1,
                    Step.RAISED,
                    Stage.EARLY,
                    Priority.MEDIUM),
            Cause.FAN_FAILED));

    private static LinkStanding standing(boolean stands, List<Answered> answers) {
        UUID id = UUID.randomUUID();
        Row link = new Row(
                UUID.randomUUID(),
                id,
                "s0",
                "ice-1",
                "Mara",
                Findings.NOON,
                Findings.NOON.plus(Duration.ofDays(2)),
                Optional.empty(),
                Optional.empty(),
                Optional.empty());
        CaseView of = new CaseView(
                id,
                "s0",
                "The Lantern",
                Optional.empty(),
                Optional.of("ice-1"),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Findings.NOON,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                List.of(FAN),
                List.of(),
                List.of());
        return new LinkStanding(link, of, stands, answers, List.of(FAN), 0, Optional.empty());
    }

    private static Answered answered(Check check) {
        return new Answered(check.id(), check.about(), "no", false, Findings.NOON);
    }

    /** The bin fills while somebody walks to the machine, or it is emptied again. */
    @Test
    void answerable_whatWasShownBeforeThePhaseChanged_isTaken() {
        Check running = standing(false, List.of()).next().orElseThrow();
        Check standing = standing(true, List.of()).next().orElseThrow();
        assertThat(running.ask()).contains("while it makes ice");
        assertThat(standing.id()).isNotEqualTo(running.id());

        assertThat(standing(true, List.of()).answerable(running.id())).contains(running);
        assertThat(standing(false, List.of()).answerable(standing.id())).contains(standing);
    }

    @Test
    void answerable_whatWasAnsweredOrIsNoneOfThese_isNot() {
        Check running = standing(false, List.of()).next().orElseThrow();
        List<Answered> one = List.of(answered(running));

        assertThat(standing(true, one).answerable(running.id())).isEmpty();
        assertThat(standing(true, List.of()).answerable("no-such-check")).isEmpty();
    }

    @Test
    void answerable_whereNothingMoreIsAsked_isNothing() {
        Check running = standing(false, List.of()).next().orElseThrow();
        Answered other = new Answered("other", "", "", false, Findings.NOON);
        List<Answered> most = Collections.nCopies(SiteCheckView.MOST_CHECKS, other);

        assertThat(standing(false, most.subList(1, most.size())).answerable(running.id()))
                .contains(running);
        assertThat(standing(false, most).answerable(running.id())).isEmpty();
    }
}
