package dev.rimecast.history.backtest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.score.FittingConditions;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.csv.InputProblems;
import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Machine;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class JudgeTest {
    private static final Instant START = Instant.parse("2026-03-01T00:00:00Z");
    private static final int DAYS = 100;

    @TempDir
    Path directory;

    private final List<AlertRow> alerts = new ArrayList<>();
    private final List<EventRow> events = new ArrayList<>();
    private Optional<Path> truth = Optional.empty();
    private List<Path> marks = List.of();

    private static Instant day(double day) {
        return START.plus(Duration.ofMinutes(Math.round(day * 1440)));
    }

    private AlertRow alert(String machine, Condition condition, double raised, double cleared) {
        AlertRow alert = new AlertRow(
                machine + "-" + alerts.size(),
                machine.isEmpty() ? Optional.empty() : Optional.of(machine),
                condition,
                Stage.EARLY,
                Priority.MEDIUM,
                day(raised),
                cleared < 0 ? Optional.empty() : Optional.of(day(cleared)),
                List.of(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                machine.isEmpty() ? "Gateway gw-1 is silent." : "");
        alerts.add(alert);
        return alert;
    }

    private void event(String machine, EventKind kind, String detail, double at) {
        events.add(new EventRow(
                day(at),
                machine.isEmpty() ? Optional.empty() : Optional.of(machine),
                Optional.of("bar"),
                kind,
                detail,
                "Pim",
                ""));
    }

    private void marks(String... rows) throws IOException {
        Path file = directory.resolve("marks.csv");
        Files.writeString(file, "machine,from,to,mark,cause\n" + String.join("\n", rows) + "\n");
        marks = List.of(file);
    }

    private void truth(String... rows) throws IOException {
        Path file = directory.resolve("truth.csv");
        Files.writeString(file, "machine,cause,onset,stopped,deadline\n" + String.join("\n", rows) + "\n");
        truth = Optional.of(file);
    }

    private Decided decided() {
        List<Machine> machines = List.of(Machine.basic("ice-1", "bar", "gw-1"), Machine.basic("ice-2", "bar", "gw-1"));
        Map<String, Decided.Span> watched = new TreeMap<>();
        machines.forEach(machine -> watched.put(machine.id(), new Decided.Span(START, day(DAYS))));
        return new Decided(machines, watched, events, List.of(), 0, 0);
    }

    private Judged judged() throws IOException {
        Decided decided = decided();
        Judged judged =
                new Judge(decided, Labels.of(decided, truth, marks), FittingConditions.standard()).judge(alerts);
        assertThat(judged.alerts()).as("every alert is in one heap").isEqualTo(alerts.size());
        return judged;
    }

    @Test
    void withoutLabels_nobodyKnows() throws Exception {
        alert("ice-1", Condition.SLOW_PULL_DOWN, 10, 12);
        alert("ice-1", Condition.CLEANING_DUE, 10, 12);
        alert("", Condition.GATEWAY_SILENT, 10, 12);

        Judged judged = judged();

        assertThat(judged.unlabelled()).hasSize(1);
        assertThat(judged.care()).isEqualTo(1);
        assertThat(judged.statements()).isEqualTo(1);
        assertThat(judged.recall()).isEmpty();
        assertThat(judged.precision()).isEmpty();
        assertThat(judged.falseRate()).isEmpty();
        assertThat(judged.watchedYears()).isCloseTo(200 / 365.2425, within(1e-9));
    }

    @Test
    void aVisitThatFoundACause_makesTheAlertBeforeItRight_andItsLead() throws Exception {
        alert("ice-1", Condition.RISING_CONDENSING_TEMPERATURE, 40, -1);
        alert("ice-1", Condition.SLOW_FILL, 41, -1);
        event("ice-1", EventKind.VISIT, "airflow-restricted", 50);
        event("ice-2", EventKind.VISIT, "scale", 50);

        Judged judged = judged();

        assertThat(judged.right())
                .extracting(AlertRow::condition)
                .containsExactly(Condition.RISING_CONDENSING_TEMPERATURE);
        assertThat(judged.unlabelled()).extracting(AlertRow::condition).containsExactly(Condition.SLOW_FILL);
        assertThat(judged.problems()).hasSize(2);
        assertThat(judged.found()).isEqualTo(1);
        assertThat(judged.leadHours(0.5)).hasValue(240);
        // Wilson's formula by hand with z = 1.6449: 0.5 -+ 0.3791.
        assertThat(judged.recall().orElseThrow().low()).isCloseTo(0.1209, within(1e-3));
        assertThat(judged.avoided()).as("the site can free the air's way").isEqualTo(1);
        assertThat(judged.planned()).isZero();
    }

    @Test
    void aVisitThatFoundNothing_makesTheAlertWrong_andTheTripWasted() throws Exception {
        alert("ice-1", Condition.SLOW_PULL_DOWN, 45, -1);
        alert("ice-1", Condition.LONG_FREEZE, 47, -1);
        alert("ice-1", Condition.SLOW_PULL_DOWN, 20, 21);
        event("ice-1", EventKind.VISIT, "nothing-found", 50);

        Judged judged = judged();

        assertThat(judged.wrong()).hasSize(2);
        assertThat(judged.unlabelled()).as("weeks before the visit").hasSize(1);
        assertThat(judged.wasted()).as("both are one trip").isEqualTo(1);
        assertThat(judged.soundYears()).isCloseTo(7 / 365.2425, within(1e-9));
    }

    @Test
    void aCallWithoutAnAlert_isAMiss() throws Exception {
        alert("ice-2", Condition.NOT_MAKING_ICE, 29, -1);
        alert("ice-1", Condition.MACHINE_SILENT, 29, -1);
        event("ice-1", EventKind.CALL, "no-ice", 30);
        event("", EventKind.CALL, "little-ice", 30);
        event("ice-2", EventKind.CALL, "no-ice", 20);

        Judged judged = judged();

        assertThat(judged.problems())
                .extracting(Judged.Problem::subject, Judged.Problem::isFound)
                .containsExactly(tuple("ice-2", false), tuple("bar", true), tuple("ice-1", false));
    }

    @Test
    void aCallThatAMarkCallsNothing_isNoMiss_andTheTimeWasSound() throws Exception {
        event("ice-1", EventKind.CALL, "no-ice", 30);
        event("ice-2", EventKind.CALL, "no-ice", 30);
        marks("ice-1,2026-03-26T00:00:00Z,2026-04-02T00:00:00Z,not,");

        Judged judged = judged();

        assertThat(judged.problems()).extracting(Judged.Problem::subject).containsExactly("ice-2");
        assertThat(judged.soundYears()).isCloseTo(7 / 365.2425, within(1e-9));
    }

    @Test
    void timeOfWhichAMarkCannotSay_isNotSound_whateverAVisitSays() throws Exception {
        event("ice-1", EventKind.VISIT, "nothing-found", 30);
        marks("ice-1,2026-03-26T00:00:00Z,2026-03-28T00:00:00Z,unknown,");

        assertThat(judged().soundYears()).isCloseTo(5 / 365.2425, within(1e-9));
    }

    /** After the call it is too late: an alert between it and the visit knows nothing before its time. */
    @Test
    void aCallAndTheVisitThatCameOfIt_areOneProblem_toBeKnownByTheCall() throws Exception {
        alert("ice-1", Condition.RISING_CONDENSING_TEMPERATURE, 30.5, -1);
        alert("ice-2", Condition.RISING_CONDENSING_TEMPERATURE, 28, -1);
        for (String machine : List.of("ice-1", "ice-2")) {
            event(machine, EventKind.CALL, "no-ice", 30);
            event(machine, EventKind.VISIT, "airflow-restricted", 31);
        }

        Judged judged = judged();

        assertThat(judged.problems())
                .extracting(Judged.Problem::subject, Judged.Problem::deadline, Judged.Problem::isFound)
                .containsExactly(tuple("ice-1", day(30), false), tuple("ice-2", day(30), true));
        assertThat(judged.byCause().get(Cause.AIRFLOW_RESTRICTED)).containsExactly(2, 1);
    }

    @Test
    void whatTwoPeopleMark_isOneProblem_unlessTheyNameTwoCauses_andNoneWhereOneSaysNot() throws Exception {
        marks(
                "ice-1,2026-03-10T00:00:00Z,2026-03-20T00:00:00Z,real,scale",
                "ice-1,2026-03-12T00:00:00Z,2026-03-19T00:00:00Z,real,",
                "ice-2,2026-03-10T00:00:00Z,2026-03-20T00:00:00Z,real,scale",
                "ice-2,2026-03-12T00:00:00Z,2026-03-19T00:00:00Z,real,airflow-restricted",
                "ice-2,2026-04-10T00:00:00Z,2026-04-20T00:00:00Z,real,scale",
                "ice-2,2026-04-12T00:00:00Z,2026-04-21T00:00:00Z,not,");

        assertThat(judged().problems())
                .extracting(Judged.Problem::subject, Judged.Problem::deadline)
                .containsExactly(tuple("ice-1", day(18)), tuple("ice-2", day(19)), tuple("ice-2", day(18)));
    }

    /** A hundred days of one sound machine, three wrong alerts, one of them of another kind within a week. */
    @Test
    void truth_saysWhatWasSound_andHowOftenItWasWrong() throws Exception {
        truth("ice-1,none,,,", "ice-2,scale,2026-03-31T00:00:00Z,,2026-04-30T00:00:00Z");
        alert("ice-1", Condition.SLOW_PULL_DOWN, 10, 12);
        alert("ice-1", Condition.LONG_FREEZE, 12, 13);
        alert("ice-1", Condition.SLOW_PULL_DOWN, 60, 61);
        alert("ice-2", Condition.LONG_FREEZE, 20, 29);
        AlertRow found = alert("ice-2", Condition.LONG_FREEZE, 45, -1);

        Judged judged = judged();

        assertThat(judged.wrong()).hasSize(4);
        assertThat(judged.wasted()).isEqualTo(3);
        assertThat(judged.soundYears()).isCloseTo(130 / 365.2425, within(1e-9));
        assertThat(judged.falseRate().orElseThrow()).isCloseTo(4 / (130 / 365.2425), within(1e-9));
        // Garwood for 4 events, two-sided 90 %: half of the quantiles of chi-square, 0.05 with 8 and 0.95 with 10
        // degrees of
        // freedom, which tables of it give as 2.733 and 18.307 (from memory).
        assertThat(judged.falseRateInterval()[0] * judged.soundYears()).isCloseTo(2.733 / 2, within(1e-3));
        assertThat(judged.falseRateInterval()[1] * judged.soundYears()).isCloseTo(18.307 / 2, within(1e-3));
        assertThat(judged.problems()).singleElement().satisfies(problem -> {
            assertThat(problem.first()).contains(found);
            assertThat(problem.lead()).contains(Duration.ofDays(15));
        });
        assertThat(judged.planned()).isEqualTo(1);
    }

    @Test
    void marks_goBeforeVisits_andWhatContradictsItselfSaysNothing() throws Exception {
        alert("ice-1", Condition.SLOW_PULL_DOWN, 45, -1);
        alert("ice-2", Condition.LONG_FREEZE, 45, -1);
        alert("ice-2", Condition.SLOW_PULL_DOWN, 70, 71);
        event("ice-1", EventKind.VISIT, "nothing-found", 50);
        marks(
                "ice-1,2026-04-14T00:00:00Z,2026-04-20T00:00:00Z,real,",
                "ice-2,2026-04-14T00:00:00Z,2026-04-20T00:00:00Z,real,scale",
                "ice-2,2026-04-10T00:00:00Z,2026-04-21T00:00:00Z,not,",
                "ice-2,2026-05-01T00:00:00Z,2026-06-01T00:00:00Z,unknown,",
                "ice-9,2026-05-01T00:00:00Z,2026-06-01T00:00:00Z,not,");

        Judged judged = judged();

        assertThat(judged.right())
                .extracting(alert -> alert.machine().orElseThrow())
                .containsExactly("ice-1");
        assertThat(judged.contradicting())
                .extracting(alert -> alert.machine().orElseThrow())
                .containsExactly("ice-2");
        assertThat(judged.unlabelled()).hasSize(1);
        assertThat(Labels.of(decided(), truth, marks).unknown()).containsExactly("ice-9");
    }

    /** Nothing was heard after a hundred days: what is said of later times is of no alert that stood until then. */
    @Test
    void marksOfTimesAfterAll_areLeftOutAndCounted() throws Exception {
        alert("ice-1", Condition.SLOW_PULL_DOWN, 45, -1);
        marks("ice-1,2036-04-14T00:00:00Z,2036-04-20T00:00:00Z,real,");

        assertThat(judged().unlabelled()).hasSize(1);
        assertThat(Labels.of(decided(), truth, marks).all()).isEmpty();
        assertThat(Labels.of(decided(), truth, marks).later()).isEqualTo(1);
        Judged judged = judged();
        assertThat(BacktestText.of(
                        List.of("live"),
                        List.of(judged),
                        SideBySide.of(List.of(judged)),
                        Labels.of(decided(), truth, marks),
                        ""))
                .contains("Left out, since they begin after their machines were heard last: 1 marks");
    }

    /** A visit of later finds what is no matter of an alert that nobody has looked at since. */
    @Test
    void alertThatHasNotCleared_standsUntilItsMachineWasHeardLast() throws Exception {
        alert("ice-1", Condition.SLOW_PULL_DOWN, 45, -1);
        event("ice-1", EventKind.VISIT, "scale", DAYS + 90);

        assertThat(judged().unlabelled()).hasSize(1);
    }

    /** Sound for four days in one row, and for three in another that begins in the middle of them. */
    @Test
    void marksThatOverlap_countEachMomentOnce() throws Exception {
        marks(
                "ice-1,2026-04-10T00:00:00Z,2026-04-14T00:00:00Z,not,",
                "ice-1,2026-04-12T00:00:00Z,2026-04-15T00:00:00Z,not,");

        assertThat(judged().soundYears()).isCloseTo(5 / 365.2425, within(1e-9));
    }

    @Test
    void aRoomThatIsTooHot_explainsTheMachineBeside() throws Exception {
        truth("ice-1,room-too-hot,2026-03-31T00:00:00Z,,2026-04-30T00:00:00Z", "ice-2,none,,,");
        alert("ice-2", Condition.AMBIENT_OUT_OF_RANGE, 40, -1);

        Judged judged = judged();

        assertThat(judged.wrong()).isEmpty();
        assertThat(judged.found()).isEqualTo(1);
    }

    @Test
    void whatIsWrongWithMarks_isSaidAllAtOnce() throws Exception {
        marks(
                "ice-1,2026-04-14T00:00:00Z,2026-04-10T00:00:00Z,real,",
                "ice-1,yesterday,2026-04-10T00:00:00Z,perhaps,",
                "ice-1,2026-04-01T00:00:00Z,2026-04-10T00:00:00Z,not,scale",
                "ice-1,2026-04-01T00:00:00Z,2026-04-10T00:00:00Z,real,ghosts");

        assertThatThrownBy(this::judged)
                .isInstanceOf(InputProblems.class)
                .hasMessageContaining("must be after from")
                .hasMessageContaining("yesterday")
                .hasMessageContaining("perhaps")
                .hasMessageContaining("belongs to a mark that is real")
                .hasMessageContaining("ghosts");
    }

    @Test
    void twoPolicies_sideBySide() throws Exception {
        truth("ice-1,none,,,", "ice-2,scale,2026-03-31T00:00:00Z,,2026-04-30T00:00:00Z");
        alert("ice-2", Condition.LONG_FREEZE, 45, -1);
        Judged first = judged();
        alerts.clear();
        alert("ice-1", Condition.SLOW_FILL, 45, -1);
        Judged second = judged();

        List<Judged> both = List.of(first, second);
        String page = BacktestText.of(
                List.of("live", "bold.yaml"),
                both,
                SideBySide.of(both),
                Labels.of(decided(), truth, marks),
                "https://ice.example");

        assertThat(page)
                .containsPattern("live +bold.yaml")
                .containsPattern(
                        "ice-2 scale +15.0 days before +missed +https://ice.example/machines/ice-2\\?hours=168&to=2026-04-18T00:00:00Z")
                .containsPattern("\n  ice-1 +0 of 0; 0, 0, 0 +0 of 0; 0, 1, 0 +https://ice.example/machines/ice-1\\?")
                .containsPattern("\n  ice-2 +1 of 1; 1, 0, 0 +0 of 1; 0, 0, 0 +https://ice.example/machines/ice-2\\?")
                .containsPattern("named first: right, wrong, of which nobody knows\n  not known +1, 0, 0 +0, 1, 0\n")
                .containsPattern("ice-1 slow-fill +0 +1")
                .as("Wilson and Garwood, as in the tables")
                .containsPattern("scale +1 of 1 \\(0.27 to 1.00\\) +0 of 1 \\(0.00 to 0.73\\)")
                .containsPattern("Visits wasted \\(90 %\\) +0 \\(0.0 to 3.0\\) +1 \\(0.1 to 4.7\\)")
                .containsPattern("median \\(90 %\\) +15.0 days \\(too few for a range\\) +-");
    }
}
