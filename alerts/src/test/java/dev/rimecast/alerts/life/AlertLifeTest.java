package dev.rimecast.alerts.life;

import static dev.rimecast.alerts.life.Findings.NOON;
import static dev.rimecast.alerts.life.Findings.finding;
import static dev.rimecast.alerts.life.Findings.next;
import static dev.rimecast.alerts.life.Findings.raised;
import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.life.AlertLife.Acknowledged;
import dev.rimecast.alerts.life.AlertLife.LatchedAcknowledged;
import dev.rimecast.alerts.life.AlertLife.LatchedUnacknowledged;
import dev.rimecast.alerts.life.AlertLife.Normal;
import dev.rimecast.alerts.life.AlertLife.OutOfService;
import dev.rimecast.alerts.life.AlertLife.ReturnedUnacknowledged;
import dev.rimecast.alerts.life.AlertLife.Shelved;
import dev.rimecast.alerts.life.AlertLife.Suppressed;
import dev.rimecast.alerts.life.AlertLife.Unacknowledged;
import dev.rimecast.alerts.life.EpisodeRules.Change;
import dev.rimecast.alerts.life.EpisodeRules.Verdict;
import dev.rimecast.alerts.view.Hold;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** The states and transitions are those of ISA-18.2 / IEC 62682 (alarm state transition diagram; from memory). */
class AlertLifeTest {
    private static final Severity EARLY = new Severity(Stage.EARLY, Priority.MEDIUM);
    private static final Severity AT_LIMIT = new Severity(Stage.AT_LIMIT, Priority.MEDIUM);
    private static final Severity MORE_URGENT = new Severity(Stage.EARLY, Priority.HIGH);
    private static final Severity LESS_URGENT = new Severity(Stage.EARLY, Priority.LOW);

    @Test
    void acknowledged_worseStage_isUnacknowledgedAgain() {
        assertThat(new Acknowledged(EARLY, EARLY).present(AT_LIMIT)).isEqualTo(new Unacknowledged(AT_LIMIT));
    }

    @Test
    void acknowledged_moreUrgent_isUnacknowledgedAgain() {
        assertThat(new Acknowledged(EARLY, EARLY).present(MORE_URGENT)).isEqualTo(new Unacknowledged(MORE_URGENT));
    }

    @Test
    void acknowledged_betterAndThenAsBadAsSeen_staysAcknowledged() {
        Acknowledged seen = new Acknowledged(EARLY, EARLY);

        AlertLife better = seen.present(LESS_URGENT);
        assertThat(better).isEqualTo(new Acknowledged(LESS_URGENT, EARLY));
        assertThat(better.present(EARLY)).isEqualTo(seen);
    }

    @Test
    void acknowledged_cleared_endsByItself() {
        assertThat(new Acknowledged(EARLY, EARLY).gone(false)).isEqualTo(new Normal());
    }

    @Test
    void unacknowledged_cleared_waitsToBeSeen() {
        assertThat(new Unacknowledged(EARLY).gone(false)).isEqualTo(new ReturnedUnacknowledged());
        assertThat(new ReturnedUnacknowledged().acknowledge()).isEqualTo(new Normal());
    }

    @Test
    void acknowledge_twiceOrOver_isRefusedWithAReason() {
        assertThat(EpisodeRules.acknowledge(new Acknowledged(EARLY, EARLY))).isInstanceOf(Change.Refused.class);
        assertThat(EpisodeRules.acknowledge(new Normal())).isInstanceOf(Change.Refused.class);
    }

    @Test
    void receive_sameOrOlderRevision_changesNothing() {
        Finding first = raised("ice-0001", Condition.LONG_FREEZE, NOON);
        Finding second = next(first, Step.UPDATED, Stage.AT_LIMIT, Priority.HIGH);
        Episode known = applied(Optional.empty(), Optional.empty(), second).next();

        assertThat(EpisodeRules.receive(Optional.of(known), Optional.empty(), first, EARLY, Standing.PLAIN))
                .isEqualTo(new Verdict.Stale());
        assertThat(EpisodeRules.receive(Optional.of(known), Optional.empty(), second, EARLY, Standing.PLAIN))
                .isEqualTo(new Verdict.Stale());
    }

    @Test
    void receive_firstSeenWhenAlreadyOver_waitsToBeSeen() {
        Finding over = finding("ice-0001", Condition.LONG_FREEZE, NOON, 3, Step.CLEARED, Stage.EARLY, Priority.MEDIUM);

        assertThat(applied(Optional.empty(), Optional.empty(), over).next().life())
                .isEqualTo(new ReturnedUnacknowledged());
    }

    @Test
    void receive_raisedAnew_endsTheEarlierEpisode() {
        Episode earlier = applied(Optional.empty(), Optional.empty(), raised("ice-0001", Condition.LONG_FREEZE, NOON))
                .next();
        Finding later = raised("ice-0001", Condition.LONG_FREEZE, NOON.plusSeconds(7200));

        Verdict.Applied verdict = applied(Optional.empty(), Optional.of(earlier), later);

        assertThat(verdict.next().life()).isEqualTo(new Unacknowledged(EARLY));
        assertThat(verdict.ended().orElseThrow().isOpen()).isFalse();
        assertThat(verdict.ended().orElseThrow().supersededBy()).contains(later.id());
    }

    @Test
    void receive_earlierEpisodeLate_isRecordedAsEnded() {
        Finding later = raised("ice-0001", Condition.LONG_FREEZE, NOON.plusSeconds(7200));
        Episode open = applied(Optional.empty(), Optional.empty(), later).next();

        Verdict.Applied verdict =
                applied(Optional.empty(), Optional.of(open), raised("ice-0001", Condition.LONG_FREEZE, NOON));

        assertThat(verdict.next().isOpen()).isFalse();
        assertThat(verdict.next().supersededBy()).contains(later.id());
        assertThat(verdict.ended()).isEmpty();
    }

    @Test
    void latching_goneWhetherSeenOrNot_waitsForAReset() {
        AlertLife unseen = new Unacknowledged(EARLY).gone(true);
        assertThat(unseen).isEqualTo(new LatchedUnacknowledged());
        assertThat(new LatchedUnacknowledged().acknowledge()).isEqualTo(new LatchedAcknowledged());
        assertThat(new LatchedUnacknowledged().reset()).isEqualTo(new ReturnedUnacknowledged());
        assertThat(new Acknowledged(EARLY, EARLY).gone(true)).isEqualTo(new LatchedAcknowledged());
        assertThat(new LatchedAcknowledged().reset()).isEqualTo(new Normal());
        assertThat(new LatchedAcknowledged().present(EARLY)).isEqualTo(new Unacknowledged(EARLY));
    }

    @Test
    void suppressed_released_staysSeenUnlessWorse() {
        Suppressed seen = new Acknowledged(EARLY, EARLY).suppress();

        assertThat(seen.release()).isEqualTo(new Acknowledged(EARLY, EARLY));
        assertThat(seen.present(AT_LIMIT).release()).isEqualTo(new Unacknowledged(AT_LIMIT));
        assertThat(new Unacknowledged(EARLY).suppress().release()).isEqualTo(new Unacknowledged(EARLY));
    }

    @Test
    void shelvedAndOutOfService_released_mustBeSeenAgain() {
        assertThat(new Acknowledged(EARLY, EARLY).shelve().release()).isEqualTo(new Unacknowledged(EARLY));
        assertThat(new Acknowledged(EARLY, EARLY).takeOutOfService().release()).isEqualTo(new Unacknowledged(EARLY));
    }

    @Test
    void held_gone_isOverAndAsksNobody() {
        assertThat(new Shelved(EARLY).gone(true)).isEqualTo(new Normal());
        assertThat(new Suppressed(EARLY, Optional.empty()).gone(false)).isEqualTo(new Normal());
    }

    @Test
    void settle_strongerHold_namesTheState() {
        Standing shelved = new Standing(false, Optional.of(Hold.Kind.SHELVED));
        Standing outOfService = new Standing(false, Optional.of(Hold.Kind.OUT_OF_SERVICE));

        assertThat(shelved.settle(new Unacknowledged(EARLY))).isEqualTo(new Shelved(EARLY));
        assertThat(outOfService.settle(new Shelved(EARLY))).isEqualTo(new OutOfService(EARLY));
        assertThat(shelved.settle(new ReturnedUnacknowledged())).isEqualTo(new ReturnedUnacknowledged());
        assertThat(Standing.PLAIN.settle(new OutOfService(EARLY))).isEqualTo(new Unacknowledged(EARLY));
    }

    @Test
    void hold_whatIsOver_isRefused() {
        assertThat(EpisodeRules.hold(new ReturnedUnacknowledged(), Hold.Kind.SHELVED))
                .isInstanceOf(Change.Refused.class);
        assertThat(EpisodeRules.reset(new Acknowledged(EARLY, EARLY))).isInstanceOf(Change.Refused.class);
        assertThat(EpisodeRules.acknowledge(new Shelved(EARLY))).isInstanceOf(Change.Refused.class);
    }

    private static Verdict.Applied applied(Optional<Episode> known, Optional<Episode> open, Finding finding) {
        return (Verdict.Applied) EpisodeRules.receive(
                known, open, finding, new Severity(finding.stage(), finding.priority()), Standing.PLAIN);
    }
}
