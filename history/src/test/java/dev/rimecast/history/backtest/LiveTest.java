package dev.rimecast.history.backtest;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.history.ToyLog;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.history.table.Taken;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LiveTest {
    private static final Finding FIRST = ToyLog.revision(10, 1, 10, Step.RAISED, Stage.EARLY, "Slow.", Cause.SCALE);
    private static final Finding SECOND = ToyLog.revision(10, 2, 20, Step.UPDATED, Stage.EARLY, "Slower.", Cause.SCALE);

    @TempDir
    Path root;

    private int used;

    private Live beside(List<Finding> live, List<Finding> here) {
        return beside(live, here, 25);
    }

    /** @param minutes of the log, which came in as they passed */
    private Live beside(List<Finding> live, List<Finding> here, int minutes) {
        used++;
        ToyLog log = new ToyLog();
        for (int minute = 0; minute <= minutes; minute++) {
            log.tick(minute);
        }
        live.forEach(log::finding);
        List<Taken> records = log.records().stream()
                .map(record -> new Taken(
                        record.topic(),
                        record.log(),
                        record.partition(),
                        record.offset(),
                        ToyLog.at((int) record.offset()).toEpochMilli(),
                        record.key(),
                        record.value()))
                .toList();
        HistoryDirectory directory = new HistoryDirectory(root.resolve("h" + used));
        HistoryWriter.open(directory, new Duck.Limits(128, 1, root.resolve("spill")), new Views(directory)::script)
                .add(records, log.positions(), List.of());
        try (History history = History.open(root.resolve("h" + used), 128, false)) {
            return Live.compare(history, here);
        }
    }

    @Test
    void same_isSame() {
        Live live = beside(List.of(FIRST, SECOND), List.of(FIRST, SECOND));
        assertThat(live.isSame()).isTrue();
        assertThat(live.inWords()).isEqualTo("Exactly what was raised live: 2 revisions of alerts.\n");
    }

    /** The log is in the history, what was decided of its last ten minutes is not yet. */
    @Test
    void revisionOfTheLastMinutes_isNoDifference_andIsTold() {
        Live live = beside(List.of(FIRST), List.of(FIRST, SECOND));
        assertThat(live.isSame()).isTrue();
        assertThat(live.later()).isEqualTo(1);
        assertThat(live.inWords()).contains("1 revisions of alerts", "1 more are of the last minutes");
    }

    /** Live has said all of that minute long ago: what is more there was never raised. */
    @Test
    void revisionThatLiveHasNotMade_isADifference_onceItMustBeInTheHistory() {
        Live live = beside(List.of(FIRST), List.of(FIRST, SECOND), 60);
        assertThat(live.isSame()).isFalse();
        assertThat(live.onlyHere()).isEqualTo(1);
        assertThat(live.later()).isZero();
        assertThat(live.inWords()).contains("1 only here", "if detection or the history was behind, ask again");
    }

    @ParameterizedTest
    @CsvSource({"60, 2, 0", "30, 1, 1", "20, 1, 1", "19, 0, 2", "5, 0, 2"})
    void siteOfWhichLiveHasSaidNothing(int minutes, int onlyHere, int later) {
        Live live = beside(List.of(), List.of(FIRST, at(20)), minutes);
        assertThat(live.onlyHere()).isEqualTo(onlyHere);
        assertThat(live.later()).isEqualTo(later);
        assertThat(live.isSame()).isEqualTo(onlyHere == 0);
    }

    private static Finding at(int minute) {
        return ToyLog.revision(minute + 1, 1, minute + 1, Step.RAISED, Stage.EARLY, "Slow.", Cause.SCALE);
    }

    @Test
    void revisionThatOnlyOneOfThemHas_isADifference() {
        assertThat(beside(List.of(SECOND), List.of(FIRST, SECOND)).onlyHere()).isEqualTo(1);
    }

    /** What people act on is compared, too, not only the sentence. */
    @Test
    void otherPriorityCausesOrDate_isADifference() {
        Finding.LimitExpected limit = new Finding.LimitExpected(ToyLog.at(5000), ToyLog.at(4000), ToyLog.at(6000));
        for (Finding other : List.of(
                with(FIRST.causes(), Priority.URGENT, FIRST.limit()),
                with(List.of(cause(Cause.SCALE, 0.5)), FIRST.priority(), FIRST.limit()),
                with(List.of(FIRST.causes().get(0), cause(Cause.FAN_WEAK, 0.1)), FIRST.priority(), FIRST.limit()),
                with(FIRST.causes(), FIRST.priority(), Optional.of(limit)))) {
            assertThat(beside(List.of(FIRST), List.of(other)).isSame())
                    .as("%s", other)
                    .isFalse();
            assertThat(beside(List.of(other), List.of(other)).isSame())
                    .as("%s", other)
                    .isTrue();
        }
    }

    private static Finding.ProbableCause cause(Cause cause, double probability) {
        return new Finding.ProbableCause(cause, probability, List.of(), List.of());
    }

    private static Finding with(
            List<Finding.ProbableCause> causes, Priority priority, Optional<Finding.LimitExpected> limit) {
        return new Finding(
                FIRST.id(),
                FIRST.revision(),
                FIRST.step(),
                FIRST.site(),
                FIRST.machine(),
                FIRST.gateway(),
                FIRST.condition(),
                FIRST.stage(),
                priority,
                FIRST.at(),
                FIRST.raisedAt(),
                causes,
                FIRST.measure(),
                limit,
                FIRST.summary(),
                FIRST.detectorVersion(),
                FIRST.policyVersion(),
                FIRST.inquiry());
    }

    @Test
    void revisionThatOnlyLiveHas_isADifference() {
        Live live = beside(List.of(FIRST, SECOND), List.of(FIRST));
        assertThat(live.isSame()).isFalse();
        assertThat(live.onlyLive()).isEqualTo(1);
        assertThat(live.inWords()).startsWith("Not what was raised live: 1 revisions are the same, 1 only live");
    }
}
