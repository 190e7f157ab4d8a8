package dev.rimecast.history.trial;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.ToyLog;
import dev.rimecast.history.compare.Difference;
import dev.rimecast.history.compare.Raised;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.history.table.Taken;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.log.SiteRecord.PolicyActivated;
import dev.rimecast.telemetry.log.SiteRecord.Registered;
import dev.rimecast.telemetry.machine.Machine;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A machine whose condenser is at 41.25 °C all day, by a candidate whose limit is 40 °C beside the product's 65 °C. */
class TrialRunTest {
    private static final Policy LOW_LIMIT = Policy.parse("version: low\nall: {limits: {condensing_celsius: 40}}\n");
    private static final int MINUTES = 600;
    private static final int HALF = 300;

    @TempDir
    Path root;

    private final ToyLog log = new ToyLog();

    TrialRunTest() {
        log.site(new PolicyActivated(ToyLog.START, "standard", Policy.standard().yaml()));
        log.site(new Registered(ToyLog.START, Machine.basic("ice-1", ToyLog.SITE, "gw-1")));
        for (int minute = 0; minute < MINUTES; minute++) {
            log.minute(minute, "ice-1", -5).tick(minute);
        }
    }

    private void write(List<Taken> records) {
        HistoryDirectory directory = new HistoryDirectory(root.resolve("history"));
        HistoryWriter.open(directory, new Duck.Limits(128, 1, root.resolve("spill")), new Views(directory)::script)
                .add(records, ToyLog.positions(records), List.of());
    }

    private TrialPolicy trial(Policy policy) {
        return new TrialPolicy(
                1, policy, Instant.ofEpochMilli(log.records().get(2 * HALF).arrivedMillis()));
    }

    /** Each time by a new object, as after a restart. */
    private TrialResult advance(Policy policy) {
        try (History history = History.open(root.resolve("history"), 128, false)) {
            return new TrialRun(root.resolve("trial"), trial(policy)).advance(history, (done, all) -> {});
        }
    }

    @Test
    void candidate_raisesFromItsBeginningOn_andOnlyThen() {
        write(log.records());

        TrialResult result = advance(LOW_LIMIT);

        assertThat(result.reached()).contains(ToyLog.at(MINUTES - 1));
        assertThat(result.isWhole()).isTrue();
        assertThat(result.candidateRaised()).isEqualTo(result.currentRaised() + 1);
        assertThat(result.differences()).singleElement().satisfies(only -> {
            assertThat(only.kind()).isEqualTo(Difference.Kind.ADDED);
            assertThat(only.either().condition()).isEqualTo(Condition.HIGH_CONDENSING_TEMPERATURE);
            assertThat(only.either().raisedAt()).isBetween(ToyLog.at(HALF - 10), ToyLog.at(HALF + 10));
        });
    }

    /** The policy in force as its own candidate: whatever is learned, restored and decided must be the same. */
    @Test
    void theSamePolicy_makesNoDifference() {
        write(log.records());

        TrialResult result = advance(Policy.parse("version: other-name\n"));

        assertThat(result.differences()).isEmpty();
        assertThat(result.candidateRaised()).isEqualTo(result.currentRaised());
    }

    @Test
    void stopsLostFilesAndTornOnes_changeNothing() throws IOException {
        List<Taken> records = log.records();
        write(records.subList(0, 500));
        TrialResult before = advance(LOW_LIMIT);
        assertThat(before.reached()).as("the trial has not begun yet").isEmpty();
        assertThat(before.differences()).isEmpty();
        write(records.subList(500, 900));
        TrialResult between = advance(LOW_LIMIT);
        assertThat(between.differences()).hasSize(1);
        write(records.subList(900, records.size()));

        TrialResult inParts = advance(LOW_LIMIT);
        TrialResult again = advance(LOW_LIMIT);
        Path file = state();
        byte[] bytes = Files.readAllBytes(file);
        Files.write(file, java.util.Arrays.copyOf(bytes, bytes.length / 2));
        TrialResult afterTorn = advance(LOW_LIMIT);
        TrialRun.clear(root.resolve("trial"));
        TrialResult atOnce = advance(LOW_LIMIT);

        assertThat(inParts).isEqualTo(atOnce);
        assertThat(again).isEqualTo(atOnce);
        assertThat(afterTorn).isEqualTo(atOnce);
        assertThat(atOnce.differences())
                .extracting(difference -> difference.candidate().map(Raised::id))
                .isEqualTo(between.differences().stream()
                        .map(difference -> difference.candidate().map(Raised::id))
                        .toList());
    }

    private Path state() throws IOException {
        try (Stream<Path> files = Files.list(root.resolve("trial"))) {
            return files.findFirst().orElseThrow();
        }
    }
}
