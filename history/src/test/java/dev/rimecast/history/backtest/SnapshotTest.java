package dev.rimecast.history.backtest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.ToyLog;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.history.store.Snapshot;
import dev.rimecast.history.table.Taken;
import dev.rimecast.history.trial.TrialPolicy;
import dev.rimecast.history.trial.TrialResult;
import dev.rimecast.history.trial.TrialRun;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.PolicyActivated;
import dev.rimecast.telemetry.log.SiteRecord.Registered;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Three weeks of a machine whose condenser is at its limit for twenty minutes every other day, which is an alert each time, and that makes no ice, which
 * is one that stands all the time. On the tenth day a policy with another limit comes into force. ToyLog's first day is a Sunday.
 */
class SnapshotTest {
    private static final int DAYS = 21;
    private static final int STEP = 30;
    private static final Instant NOW = ToyLog.START.plus(Duration.ofDays(DAYS));
    private static final Policy SLOWER = Policy.parse("version: slower\nall: {limits: {condensing_celsius: 68}}\n");

    @TempDir
    Path root;

    private final List<Finding> live = new ArrayList<>();
    private HistoryDirectory directory = new HistoryDirectory(Path.of("none"));

    @BeforeEach
    void write() {
        directory = new HistoryDirectory(root.resolve("history"));
        ToyLog log = new ToyLog();
        log.site(new PolicyActivated(ToyLog.START, "standard", Policy.standard().yaml()));
        log.site(new Registered(ToyLog.START, Machine.basic("ice-1", ToyLog.SITE, "gw-1")));
        for (int minute = 0; minute < DAYS * 1440; minute++) {
            // A burst of readings a minute apart each second day; else it is enough that something is said.
            boolean isBurst = minute / 1440 % 2 == 0 && minute % 1440 >= 600 && minute % 1440 < 640;
            if (minute % STEP != 0 && !isBurst) {
                continue;
            }
            if (minute == 10 * 1440) {
                log.site(new PolicyActivated(ToyLog.at(minute), "slower", SLOWER.yaml()));
            }
            if (minute % 1440 == 720 && minute / 1440 % 5 == 0) {
                log.event(minute, "ice-1", EventKind.VISIT, "nothing-found");
            }
            boolean isHot = isBurst && minute % 1440 >= 605 && minute % 1440 < 625;
            log.pack(
                            ToyLog.temperature(minute, "ice-1", -5),
                            Reading.number(
                                    "ice-1",
                                    Channel.CONDENSER_TEMPERATURE,
                                    ToyLog.at(minute).toEpochMilli(),
                                    isHot ? 70 : 41.25),
                            Reading.phase("ice-1", ToyLog.at(minute).toEpochMilli(), Phase.FREEZE))
                    .tick(minute);
        }
        add(spread(log.records()));
        try (History history = open()) {
            live.addAll(LogRun.run(history, Start.LIVE, 1, (done, all) -> {})
                    .findings()
                    .get(0));
        }
        List<Taken> said = new ArrayList<>();
        for (Finding finding : live) {
            said.add(new Taken(
                    Topics.FINDINGS,
                    "toy-log",
                    0,
                    said.size(),
                    NOW.toEpochMilli(),
                    ToyLog.SITE,
                    FindingJson.encode(finding)));
        }
        add(said);
    }

    /** Each record came in when it was made, more or less. */
    private static List<Taken> spread(List<Taken> records) {
        double each = Duration.ofDays(DAYS).toMillis() / (double) records.size();
        return records.stream()
                .map(record -> new Taken(
                        record.topic(),
                        record.log(),
                        record.partition(),
                        record.offset(),
                        ToyLog.START.toEpochMilli() + (long) (record.offset() * each),
                        record.key(),
                        record.value()))
                .toList();
    }

    private HistoryWriter writer() {
        return HistoryWriter.open(
                directory, new Duck.Limits(128, 1, root.resolve("spill")), new Views(directory)::script);
    }

    private void add(List<Taken> records) {
        writer().add(records, ToyLog.positions(records), List.of());
    }

    private History open() {
        return History.open(directory.root(), 128, false);
    }

    /** In steps of so many records, each by a new object, as after a restart, or all by one. */
    private List<Snapshot> snapshots(int chunk, boolean isRestarted) {
        SnapshotRun run = new SnapshotRun(writer(), () -> 0, chunk);
        if (isRestarted) {
            // A stop in the middle of the first passes.
            for (int step = 0; step < 3; step++) {
                run.advance(NOW, 0);
            }
            run = new SnapshotRun(writer(), () -> 0, chunk);
        }
        while (run.advance(NOW, 0)) {
            assertThat(directory.read().snapshots()).hasSizeLessThan(DAYS);
        }
        return directory.read().snapshots();
    }

    private Decided from(Start start) {
        try (History history = open()) {
            return LogRun.run(history, Start.LIVE, 1, (done, all) -> {}, start, Resume.none());
        }
    }

    private Start before(int days) {
        try (History history = open()) {
            assertThat(Start.newestMinute(history)).contains(ToyLog.at(DAYS * 1440 - STEP));
            return Start.before(
                    history, Start.newestMinute(history).orElseThrow().minus(Duration.ofDays(days)));
        }
    }

    private Live beside(Decided decided, Start start) {
        try (History history = open()) {
            return Live.compare(history, decided.findings().get(0), start);
        }
    }

    @Test
    void oneAWeek_whateverTheStepsAndStops() throws IOException {
        byte[] before = Files.readAllBytes(directory.root().resolve("manifest.json"));
        List<Snapshot> parts = snapshots(700, true);
        List<byte[]> bytes = new ArrayList<>();
        for (Snapshot snapshot : parts) {
            bytes.add(Files.readAllBytes(snapshot.in(directory)));
        }
        Files.write(directory.root().resolve("manifest.json"), before);
        List<Snapshot> atOnce = snapshots(1_000_000, false);

        assertThat(parts).hasSize(3).extracting(Snapshot::week).isSorted().doesNotHaveDuplicates();
        assertThat(parts).extracting(Snapshot::from).containsOnly(0L);
        assertThat(atOnce).isEqualTo(parts);
        for (int i = 0; i < parts.size(); i++) {
            assertThat(Files.readAllBytes(parts.get(i).in(directory)))
                    .as("snapshot %d", i)
                    .isEqualTo(bytes.get(i));
        }
        assertThat(new SnapshotRun(writer(), () -> 0, 700).advance(NOW, 0))
                .as("nothing until the next week")
                .isFalse();
    }

    @Test
    void fromASnapshot_theAlertsAreExactlyThoseThatWereLive() {
        snapshots(700, false);
        Decided all = from(beginning());

        for (int days : new int[] {3, 10}) {
            Start start = before(days);
            Decided decided = from(start);
            Live beside = beside(decided, start);

            assertThat(start.until()).as("%d days", days).isPresent();
            assertThat(beside.firstDifference()).isEmpty();
            assertThat(beside.isSame()).isTrue();
            assertThat(beside.same())
                    .isEqualTo(decided.findings().get(0).size())
                    .isLessThan(live.size());
            assertThat(live).containsAll(decided.findings().get(0));
            assertThat(decided.records()).isLessThan(all.records());
            Window window = Window.of(all, days);
            assertThat(Window.of(decided, days)).isEqualTo(window);
            assertThat(window.of(decided).watched()).isEqualTo(window.of(all).watched());
            assertThat(decided.events()).isEqualTo(all.events());
            assertThat(decided.cycles()).isEqualTo(all.cycles());
        }
    }

    private Start beginning() {
        try (History history = open()) {
            return Start.ofTheLog(history);
        }
    }

    /** What live had and the back-test has not, after the snapshot, is still seen. */
    @Test
    void anAlertThatIsMissing_isADifference() {
        snapshots(700, false);
        Start start = before(10);
        List<Finding> fewer = new ArrayList<>(from(start).findings().get(0));
        fewer.remove(fewer.size() - 1);

        try (History history = open()) {
            assertThat(Live.compare(history, fewer, start).isSame()).isFalse();
        }
    }

    @Test
    void aDamagedSnapshot_isPassedOver_andTheResultIsTheSame() throws IOException {
        List<Snapshot> all = snapshots(700, false);
        Start whole = before(3);
        Path newest = all.get(all.size() - 1).in(directory);
        byte[] bytes = Files.readAllBytes(newest);
        bytes[bytes.length / 2] ^= 1;
        Files.write(newest, bytes);

        Start older = before(3);

        assertThat(older.until().orElseThrow()).isBefore(whole.until().orElseThrow());
        assertThat(beside(from(older), older).isSame()).isTrue();
        for (Snapshot snapshot : all) {
            Files.write(snapshot.in(directory), Arrays.copyOf(bytes, 50));
        }
        assertThat(before(3).until()).as("the log's beginning").isEmpty();
    }

    @Test
    void anotherPolicy_hasToLearnFromTheBeginning() {
        snapshots(700, false);
        Start start = before(3);
        try (History history = open()) {
            List<LogRun.Trial> other = List.of(new LogRun.Trial("slower", Optional.of(SLOWER)));
            assertThatThrownBy(() -> LogRun.run(history, other, 1, (done, all) -> {}, start, Resume.none()))
                    .isInstanceOf(IllegalArgumentException.class);
        }
    }

    @Test
    void trial_beginsAtTheNewestSnapshotBeforeIt_andComesToTheSame() {
        TrialPolicy trial = new TrialPolicy(
                1,
                Policy.parse("version: deaf\nall: {limits: {condensing_celsius: 75}}\n"),
                ToyLog.START.plus(Duration.ofDays(17)));
        List<Long> records = new ArrayList<>();
        TrialResult fromTheLog = advance(trial, "a", records);
        snapshots(700, false);

        TrialResult fromASnapshot = advance(trial, "b", records);

        assertThat(fromASnapshot).isEqualTo(fromTheLog);
        assertThat(fromTheLog.differences()).isNotEmpty();
        assertThat(records.get(1)).isLessThan(records.get(0) / 2);
    }

    private TrialResult advance(TrialPolicy trial, String name, List<Long> records) {
        long[] most = {0};
        try (History history = open()) {
            TrialResult result = new TrialRun(root.resolve(name), trial).advance(history, (done, all) -> most[0] = all);
            records.add(most[0]);
            return result;
        }
    }

    @Test
    void aStart_deletesWhatNoManifestNames() throws IOException {
        List<Snapshot> named = snapshots(700, false);
        Path orphan = directory.snapshots().resolve("states-0-1-none.state.new");
        Files.writeString(orphan, "half");

        writer();

        assertThat(orphan).doesNotExist();
        assertThat(named)
                .allSatisfy(snapshot -> assertThat(snapshot.in(directory)).exists());
    }
}
