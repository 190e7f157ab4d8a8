package dev.rimecast.telemetry.file.result;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.file.csv.InputProblems;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The texts are written by hand from the contract, section 5. */
class ReadResultsTest {
    @TempDir
    Path directory;

    private Path file(String text) throws IOException {
        return Files.writeString(directory.resolve("file.csv"), text);
    }

    @Test
    void alerts_ofTheContract_areReadWithTheirCausesInOrder() throws IOException {
        List<AlertRow> alerts = AlertsFile.read(file("""
                alert,machine,condition,stage,priority,raised_at,cleared_at,probable_cause,cause_probability,\
                other_causes,cause_origin,limit_expected_at,limit_expected_early,limit_expected_late,summary
                a-1,ice-1,slow-pull-down,at-limit,high,2026-05-04T00:00:12.010Z,2026-05-04T02:00:12.010Z,\
                airflow-restricted,0.713,fan-weak:0.200;room-too-hot:0.087,site,2026-05-05T01:00:12.010Z,,,"700 s, not 420 s"
                a-2,,gateway-silent,early,low,2026-05-04T00:00:12.010Z,,,,,,,,,silent
                """));

        assertThat(alerts)
                .containsExactly(
                        new AlertRow(
                                "a-1",
                                Optional.of("ice-1"),
                                Condition.SLOW_PULL_DOWN,
                                Stage.AT_LIMIT,
                                Priority.HIGH,
                                Instant.parse("2026-05-04T00:00:12.010Z"),
                                Optional.of(Instant.parse("2026-05-04T02:00:12.010Z")),
                                List.of(
                                        new NamedCause(Cause.AIRFLOW_RESTRICTED, 0.713),
                                        new NamedCause(Cause.FAN_WEAK, 0.2),
                                        new NamedCause(Cause.ROOM_TOO_HOT, 0.087)),
                                Optional.of(Instant.parse("2026-05-05T01:00:12.010Z")),
                                Optional.empty(),
                                Optional.empty(),
                                "700 s, not 420 s"),
                        new AlertRow(
                                "a-2",
                                Optional.empty(),
                                Condition.GATEWAY_SILENT,
                                Stage.EARLY,
                                Priority.LOW,
                                Instant.parse("2026-05-04T00:00:12.010Z"),
                                Optional.empty(),
                                List.of(),
                                Optional.empty(),
                                Optional.empty(),
                                Optional.empty(),
                                "silent"));
    }

    @Test
    void history_ofTheContract_isRead() throws IOException {
        List<RevisionRow> history = AlertHistoryFile.read(file("""
                alert,revision,at,stage,priority,cause,probability,other_causes,limit_expected_at
                a-1,2,2026-05-04T01:00:12.010Z,early,high,scale,0.500,fan-weak:0.100,
                """));

        assertThat(history)
                .containsExactly(new RevisionRow(
                        "a-1",
                        2,
                        Instant.parse("2026-05-04T01:00:12.010Z"),
                        Stage.EARLY,
                        Priority.HIGH,
                        List.of(new NamedCause(Cause.SCALE, 0.5), new NamedCause(Cause.FAN_WEAK, 0.1)),
                        Optional.empty()));
    }

    @Test
    void cycles_ofTheContract_areReadInWhatAScoreNeeds() throws IOException {
        List<CycleRow> cycles = CyclesFile.read(file("""
                machine,freeze_start,pull_down_s,freeze_s,harvest_s,condensing_peak_c,condensing_mean_c,\
                evaporator_end_c,ambient_c,ambient_source,water_c,water_source,drain_runs,drain_level_max_s,complete
                ice-1,2026-05-04T00:00:12.010Z,312.3,1285.0,,47.13,43.50,-14.88,24.96,sensor,,,1,2.3,1
                """));

        assertThat(cycles)
                .containsExactly(new CycleRow(
                        "ice-1",
                        Instant.parse("2026-05-04T00:00:12.010Z"),
                        OptionalDouble.of(1285),
                        OptionalDouble.empty(),
                        true));
    }

    @Test
    void alerts_withSeveralFaults_tellThemAllWithLineAndColumn() throws IOException {
        Path file = file("""
                alert,machine,condition,raised_at,other_causes
                a-1,ice-1,slow-pulldown,2026-05-04T00:00:12.010Z,
                a-2,ice-1,slow-fill,yesterday,
                a-3,ice-1,slow-fill,2026-05-04T00:00:12.010Z,scale=0.2
                """);

        assertThatThrownBy(() -> AlertsFile.read(file))
                .isInstanceOf(InputProblems.class)
                .hasMessageContaining("slow-pull-down")
                .hasMessageContaining("raised_at")
                .hasMessageContaining("scale:0.2;fan-weak:0.1");
    }
}
