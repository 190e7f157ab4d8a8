package dev.rimecast.telemetry.file.result;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.file.log.RejectedLine;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Columns, order and rounding are those of the contract, section 5: the texts here are written by hand from it. */
class ResultFilesTest {
    private static final Instant START = Instant.parse("2026-05-04T00:00:12.010Z");

    @TempDir
    Path directory;

    private static Cycle cycle(String machine, Instant start) {
        return new Cycle(
                machine,
                start,
                start.plusSeconds(1500),
                OptionalDouble.of(312.25),
                OptionalDouble.of(1285),
                OptionalDouble.empty(),
                OptionalDouble.of(47.128),
                OptionalDouble.of(43.5),
                OptionalDouble.of(17.3),
                OptionalDouble.of(-14.8751),
                OptionalDouble.of(24.96),
                "sensor",
                OptionalDouble.empty(),
                "",
                OptionalInt.of(1),
                OptionalDouble.of(2.34),
                OptionalDouble.of(3.1),
                true,
                List.of(),
                "d1",
                "p1",
                Optional.empty());
    }

    @Test
    void writeCycles_anyOrder_isSortedAndRounded() throws IOException {
        Path file = directory.resolve("cycles.csv");

        CyclesFile.write(
                file, List.of(cycle("ice-2", START), cycle("ice-1", START.plusMillis(1)), cycle("ice-1", START)));

        assertThat(Files.readString(file)).isEqualTo("""
                        machine,freeze_start,pull_down_s,freeze_s,harvest_s,condensing_peak_c,condensing_mean_c,\
                        evaporator_end_c,ambient_c,ambient_source,water_c,water_source,drain_runs,drain_level_max_s,complete
                        ice-1,2026-05-04T00:00:12.010Z,312.3,1285.0,,47.13,43.50,-14.88,24.96,sensor,,,1,2.3,1
                        ice-2,2026-05-04T00:00:12.010Z,312.3,1285.0,,47.13,43.50,-14.88,24.96,sensor,,,1,2.3,1
                        ice-1,2026-05-04T00:00:12.011Z,312.3,1285.0,,47.13,43.50,-14.88,24.96,sensor,,,1,2.3,1
                        """);
    }

    private static Finding finding(
            Optional<String> machine, Condition condition, int revision, Step step, List<ProbableCause> causes) {
        Instant at = START.plusSeconds(3600L * (revision - 1));
        return new Finding(
                Finding.idOf(machine.orElse("gateway:gw-1"), condition, START),
                revision,
                step,
                "s-1",
                machine,
                machine.isPresent() ? Optional.empty() : Optional.of("gw-1"),
                condition,
                revision == 1 ? Stage.EARLY : Stage.AT_LIMIT,
                step == Step.CLEARED ? Priority.LOW : Priority.HIGH,
                at,
                START,
                causes,
                Optional.empty(),
                step == Step.CLEARED || causes.isEmpty()
                        ? Optional.empty()
                        : Optional.of(new LimitExpected(
                                at.plusSeconds(86_400), at.plusSeconds(43_200), at.plusSeconds(172_800))),
                step == Step.CLEARED ? "over" : "pull-down 700 s, expected 420 s",
                "d1",
                "p1");
    }

    private static List<Finding> findings() {
        Optional<String> ice = Optional.of("ice-1");
        List<ProbableCause> first = List.of(new ProbableCause(Cause.SCALE, 0.5, List.of(), List.of()));
        List<ProbableCause> second = List.of(
                new ProbableCause(Cause.AIRFLOW_RESTRICTED, 0.7125, List.of(), List.of()),
                new ProbableCause(Cause.FAN_WEAK, 0.2, List.of(), List.of()),
                new ProbableCause(Cause.ROOM_TOO_HOT, 0.0875, List.of(), List.of()));
        return List.of(
                finding(ice, Condition.SLOW_PULL_DOWN, 1, Step.RAISED, first),
                finding(ice, Condition.SLOW_PULL_DOWN, 2, Step.UPDATED, second),
                finding(ice, Condition.SLOW_PULL_DOWN, 3, Step.CLEARED, List.of()),
                finding(ice, Condition.DRAIN_PUMP_OVERRUN, 1, Step.RAISED, List.of()),
                finding(Optional.empty(), Condition.GATEWAY_SILENT, 1, Step.RAISED, List.of()));
    }

    @Test
    void writeAlerts_revisionsInAnyOrderAndTwice_giveOneRowEach() throws IOException {
        Path file = directory.resolve("alerts.csv");
        long seed = 5;
        List<Finding> shuffled = new ArrayList<>(findings());
        shuffled.addAll(findings());
        Collections.shuffle(shuffled, new Random(seed));

        AlertsFile.write(file, shuffled);

        assertThat(Files.readString(file)).as("seed " + seed).isEqualTo("""
                        alert,machine,condition,stage,priority,raised_at,cleared_at,probable_cause,cause_probability,\
                        other_causes,cause_origin,limit_expected_at,limit_expected_early,limit_expected_late,summary
                        %s,,gateway-silent,early,high,2026-05-04T00:00:12.010Z,,,,,,,,,"pull-down 700 s, expected 420 s"
                        %s,ice-1,drain-pump-overrun,early,high,2026-05-04T00:00:12.010Z,,,,,,,,,\
                        "pull-down 700 s, expected 420 s"
                        %s,ice-1,slow-pull-down,at-limit,high,2026-05-04T00:00:12.010Z,2026-05-04T02:00:12.010Z,\
                        airflow-restricted,0.713,fan-weak:0.200;room-too-hot:0.087,site,2026-05-05T01:00:12.010Z,\
                        2026-05-04T13:00:12.010Z,2026-05-06T01:00:12.010Z,"pull-down 700 s, expected 420 s"
                        """.formatted(
                        Finding.idOf("gateway:gw-1", Condition.GATEWAY_SILENT, START),
                        Finding.idOf("ice-1", Condition.DRAIN_PUMP_OVERRUN, START),
                        Finding.idOf("ice-1", Condition.SLOW_PULL_DOWN, START)));
    }

    @Test
    void writeHistory_revisions_areSortedByAlertAndRevision() throws IOException {
        Path file = directory.resolve("alert_history.csv");
        List<Finding> reversed = new ArrayList<>(findings().subList(0, 3));
        Collections.reverse(reversed);
        String id = reversed.get(0).id().toString();

        AlertHistoryFile.write(file, reversed);

        assertThat(Files.readString(file)).isEqualTo("""
                        alert,revision,at,stage,priority,cause,probability,other_causes,limit_expected_at
                        ID,1,2026-05-04T00:00:12.010Z,early,high,scale,0.500,,2026-05-05T00:00:12.010Z
                        ID,2,2026-05-04T01:00:12.010Z,at-limit,high,airflow-restricted,0.713,\
                        fan-weak:0.200;room-too-hot:0.087,2026-05-05T01:00:12.010Z
                        ID,3,2026-05-04T02:00:12.010Z,at-limit,low,,,,
                        """.replace("ID", id));
    }

    @Test
    void writeRejects_anyOrder_isSortedByFileAndLine() throws IOException {
        Path file = directory.resolve("rejects.csv");

        RejectsFile.write(
                file,
                List.of(
                        new RejectedLine("b.csv", 2, "", "has 3 cells"),
                        new RejectedLine("a.csv", 10, "phase", "must be one of wait, fill"),
                        new RejectedLine("a.csv", 9, "", "x")));

        assertThat(Files.readString(file)).isEqualTo("""
                        file,line,column,reason
                        a.csv,9,,x
                        a.csv,10,phase,"must be one of wait, fill"
                        b.csv,2,,has 3 cells
                        """);
    }
}
