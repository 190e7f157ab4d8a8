package dev.rimecast.history.backtest;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.history.ToyLog;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Stage;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class LiveTest {
    private static final Finding FIRST = ToyLog.revision(10, 1, 10, Step.RAISED, Stage.EARLY, "Slow.", Cause.SCALE);
    private static final Finding SECOND = ToyLog.revision(10, 2, 20, Step.UPDATED, Stage.EARLY, "Slower.", Cause.SCALE);

    @TempDir
    Path root;

    private Live beside(List<Finding> live, List<Finding> here) {
        ToyLog log = new ToyLog().tick(3);
        live.forEach(log::finding);
        HistoryDirectory directory = new HistoryDirectory(root.resolve("h"));
        HistoryWriter.open(directory, new Duck.Limits(128, 1, root.resolve("spill")), new Views(directory)::script)
                .add(log.records(), log.positions(), List.of());
        try (History history = History.open(root.resolve("h"), 128, false)) {
            return Live.compare(history, here);
        }
    }

    @Test
    void same_isSame() {
        Live live = beside(List.of(FIRST, SECOND), List.of(FIRST, SECOND));
        assertThat(live.isSame()).isTrue();
        assertThat(live.inWords()).isEqualTo("Exactly what was raised live: 2 revisions of alerts.\n");
    }

    /** The log is in the history, what was decided of its last records is not yet. */
    @Test
    void revisionLaterThanAllThatTheHistoryHas_isNoDifference_andIsTold() {
        Live live = beside(List.of(FIRST), List.of(FIRST, SECOND));
        assertThat(live.isSame()).isTrue();
        assertThat(live.later()).isEqualTo(1);
        assertThat(live.inWords()).contains("1 revisions of alerts", "1 more are later");
    }

    @Test
    void revisionThatOnlyOneOfThemHas_isADifference() {
        assertThat(beside(List.of(SECOND), List.of(FIRST, SECOND)).onlyHere()).isEqualTo(1);
    }

    @Test
    void revisionThatOnlyLiveHas_isADifference() {
        Live live = beside(List.of(FIRST, SECOND), List.of(FIRST));
        assertThat(live.isSame()).isFalse();
        assertThat(live.onlyLive()).isEqualTo(1);
        assertThat(live.inWords()).startsWith("Not what was raised live: 1 revisions are the same, 1 only live");
    }
}
