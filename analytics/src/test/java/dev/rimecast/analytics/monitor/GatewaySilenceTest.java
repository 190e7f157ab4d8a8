package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Ground;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;

/** A gateway that is not heard: low at first, since most come back by themselves within hours [common practice]. */
class GatewaySilenceTest {
    private static final String ICE = "ice-1";
    private static final long T = 1_777_800_000_000L;
    private static final int SILENT = 60;
    private static final int SERIOUS = 2880;

    private static Scene heardOnce() {
        return heard(new Scene(ICE), T);
    }

    private static Scene heard(Scene scene, long millis) {
        return scene.pack(Reading.number(ICE, Channel.EVAPORATOR_TEMPERATURE, millis, 1));
    }

    private static long minute(int minutes) {
        return T + minutes * 60_000L;
    }

    @Test
    void silent_uptoTheSeriousTime_isLow() {
        Scene scene = heardOnce().ticks(SERIOUS - 1);

        assertThat(scene.findings).singleElement().satisfies(finding -> {
            assertThat(finding.condition()).isEqualTo(Condition.GATEWAY_SILENT);
            assertThat(finding.priority()).isEqualTo(Priority.LOW);
            assertThat(finding.stage()).isEqualTo(Stage.AT_LIMIT);
            assertThat(finding.at().toEpochMilli()).isEqualTo(minute(SILENT));
            assertThat(finding.summary()).endsWith("for 60 minutes.");
            assertThat(finding.grounds()).extracting(Ground::entry).containsExactly("delays.gateway_silent_minutes");
        });
    }

    @Test
    void silent_forTheSeriousTime_isMediumAndStopped_once_untilItIsHeard() {
        Scene scene = heardOnce().ticks(SERIOUS);

        assertThat(scene.findings).hasSize(2);
        Finding serious = scene.findings.get(1);
        assertThat(serious.id()).isEqualTo(scene.findings.get(0).id());
        assertThat(serious.revision()).isEqualTo(2);
        assertThat(serious.step()).isEqualTo(Step.UPDATED);
        assertThat(serious.priority()).isEqualTo(Priority.MEDIUM);
        assertThat(serious.stage()).isEqualTo(Stage.STOPPED);
        assertThat(serious.at().toEpochMilli()).isEqualTo(minute(SERIOUS));
        assertThat(serious.summary()).endsWith("for 48 hours.");
        assertThat(serious.grounds())
                .extracting(Ground::entry)
                .containsExactly("delays.gateway_silent_serious_minutes");

        heard(scene.ticks(3 * 1440), minute(SERIOUS + 3 * 1440));
        assertThat(scene.findings).extracting(Finding::step).containsExactly(Step.RAISED, Step.UPDATED, Step.CLEARED);
    }

    @Test
    void heardBeforeTheSeriousTime_isOverLow_andTheNextSilenceBeginsAnew() {
        Scene scene = heard(heardOnce().ticks(SERIOUS - 1), minute(SERIOUS - 1)).ticks(SERIOUS - 1);

        assertThat(scene.findings)
                .extracting(Finding::step, Finding::priority)
                .containsExactly(
                        tuple(Step.RAISED, Priority.LOW),
                        tuple(Step.CLEARED, Priority.LOW),
                        tuple(Step.RAISED, Priority.LOW));
    }

    @Test
    void restartsBetween_decideTheSame() {
        List<Finding> plain = heard(heardOnce().ticks(SERIOUS + 10), minute(SERIOUS + 10)).findings;

        Scene stopping = heard(new Scene(ICE).stoppingAfterEveryRecord(), T);
        assertThat(heard(stopping.ticks(SERIOUS + 10), minute(SERIOUS + 10)).findings)
                .isEqualTo(plain)
                .hasSize(3);
    }

    /** Nothing that is open gets less serious by a new policy, nor by a new version: until it had two stages, each was medium. */
    @Test
    void mediumFromBefore_staysMedium() {
        Scene scene = heardOnce().take(policy("at-once", SILENT)).ticks(SILENT);
        assertThat(scene.findings)
                .singleElement()
                .satisfies(finding -> assertThat(finding.priority()).isEqualTo(Priority.MEDIUM));

        scene.take(policy("later", SERIOUS)).ticks(2 * SERIOUS);

        assertThat(scene.findings).hasSize(1);
    }

    private static SiteRecord policy(String version, int serious) {
        return new SiteRecord.PolicyActivated(
                Instant.ofEpochMilli(T),
                version,
                "version: " + version + "\nall:\n  delays:\n    gateway_silent_serious_minutes: " + serious + "\n");
    }
}
