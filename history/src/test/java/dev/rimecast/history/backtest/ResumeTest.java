package dev.rimecast.history.backtest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.ToyLog;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.history.table.Taken;
import dev.rimecast.telemetry.file.result.AlertHistoryFile;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.PolicyActivated;
import dev.rimecast.telemetry.log.SiteRecord.Registered;
import dev.rimecast.telemetry.machine.Machine;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Three partitions with a site each, whose condenser is at 41.25 °C, by the live policy and by one whose limit is 40 °C. */
class ResumeTest {
    private static final int MINUTES = 200;
    private static final int CHUNK = 50;
    private static final List<LogRun.Trial> TRIALS = List.of(
            new LogRun.Trial("live", Optional.empty()),
            new LogRun.Trial(
                    "low", Optional.of(Policy.parse("version: low\nall: {limits: {condensing_celsius: 40}}\n"))));

    @TempDir
    Path root;

    private final List<String> told = new ArrayList<>();
    private List<Taken> records = List.of();

    @BeforeEach
    void write() {
        ToyLog log = new ToyLog();
        log.site(new PolicyActivated(ToyLog.START, "standard", Policy.standard().yaml()));
        log.site(new Registered(ToyLog.START, Machine.basic("ice-1", ToyLog.SITE, "gw-1")));
        for (int minute = 0; minute < MINUTES; minute++) {
            log.minute(minute, "ice-1", -5).tick(minute);
        }
        log.event(MINUTES / 2, "ice-1", EventKind.VISIT, "fan-weak");
        records = log.records().stream()
                .flatMap(record -> Stream.of(0, 1, 2).map(partition -> in(partition, record)))
                .toList();
        add(records.stream().filter(record -> record.offset() < MINUTES).toList());
    }

    private static Taken in(int partition, Taken record) {
        return new Taken(
                record.topic(),
                record.log(),
                partition,
                record.offset(),
                record.arrivedMillis(),
                record.key().isEmpty() ? "" : record.key() + partition,
                record.value());
    }

    private void add(List<Taken> some) {
        HistoryDirectory directory = new HistoryDirectory(root.resolve("history"));
        HistoryWriter.open(directory, new Duck.Limits(128, 1, root.resolve("spill")), new Views(directory)::script)
                .add(some, ToyLog.positions(some), List.of());
    }

    private Path kept() {
        return root.resolve("kept");
    }

    private Decided run(Resume resume, long until) {
        try (History history = History.open(root.resolve("history"), 128, false)) {
            return LogRun.run(
                    history,
                    TRIALS,
                    1,
                    (done, all) -> {
                        if (done >= until) {
                            throw new IllegalStateException("interrupted");
                        }
                    },
                    Start.ofTheLog(history),
                    resume,
                    CHUNK);
        }
    }

    private Decided atOnce() {
        return run(Resume.none(), Long.MAX_VALUE);
    }

    private void interruptAfter(long done) {
        try (Resume resume = Resume.in(kept(), told::add)) {
            assertThatThrownBy(() -> run(resume, done)).hasMessage("interrupted");
        }
    }

    private Decided goOn() {
        try (Resume resume = Resume.in(kept(), told::add)) {
            Decided decided = run(resume, Long.MAX_VALUE);
            resume.done();
            return decided;
        }
    }

    private void assertSame(Decided decided, Decided other) throws IOException {
        assertThat(decided).isEqualTo(other);
        assertThat(decided.findings().get(1)).hasSizeGreaterThanOrEqualTo(3);
        for (int trial = 0; trial < TRIALS.size(); trial++) {
            assertThat(file(decided, trial)).isEqualTo(file(other, trial));
        }
    }

    private String file(Decided decided, int trial) throws IOException {
        Path file = root.resolve("alert_history.csv");
        AlertHistoryFile.write(file, decided.findings().get(trial));
        return Files.readString(file, StandardCharsets.UTF_8);
    }

    @Test
    void interrupted_goesOnWhereItStopped_andComesToTheSame() throws IOException {
        for (long done : new long[] {50, 250, 550}) {
            interruptAfter(done);
        }
        List<Long> from = new ArrayList<>();
        Decided decided;
        try (Resume resume = Resume.in(kept(), told::add);
                History history = History.open(root.resolve("history"), 128, false)) {
            decided = LogRun.run(
                    history, TRIALS, 1, (done, all) -> from.add(done), Start.ofTheLog(history), resume, CHUNK);
            resume.done();
        }

        assertSame(decided, atOnce());
        assertThat(told).isEmpty();
        assertThat(from.get(0)).as("of 600 records, 200 a partition").isEqualTo(200);
        assertThat(from).as("what was done is passed over").hasSizeLessThan(6);
        assertThat(kept()).doesNotExist();
    }

    /** The server goes on writing meanwhile. */
    @Test
    void whatHasComeInMeanwhile_isDecidedToo() throws IOException {
        interruptAfter(550);
        add(records.stream().filter(record -> record.offset() >= MINUTES).toList());

        Decided decided = goOn();

        assertSame(decided, atOnce());
        assertThat(decided.events()).hasSize(3);
    }

    @Test
    void tornAndForeignFiles_areSaid_andDecidedAnew() throws IOException {
        interruptAfter(550);
        Path first = kept().resolve("partition-0.state");
        byte[] bytes = Files.readAllBytes(first);
        Files.write(first, Arrays.copyOf(bytes, bytes.length - 9));
        Files.copy(
                kept().resolve("partition-1.state"),
                kept().resolve("partition-2.state"),
                java.nio.file.StandardCopyOption.REPLACE_EXISTING);
        byte[] flipped = Files.readAllBytes(kept().resolve("partition-1.state"));
        flipped[flipped.length / 2] ^= 1;
        Files.write(kept().resolve("partition-1.state"), flipped);

        Decided decided = goOn();

        assertSame(decided, atOnce());
        assertThat(told)
                .anyMatch(said -> said.contains("partition-0.state is cut off")
                        && said.contains("partition 0 is decided from its beginning"))
                .anyMatch(said -> said.contains("partition-1.state is cut off or damaged"))
                .anyMatch(said -> said.contains("partition-2.state is of another question"));
    }

    @Test
    void oneBackTestAtATime_usesADirectory() {
        try (Resume resume = Resume.in(kept(), told::add)) {
            assertThat(resume.isKept()).isTrue();
            assertThatThrownBy(() -> Resume.in(kept(), told::add))
                    .isInstanceOf(HistoryException.class)
                    .hasMessageContaining("another back-test");
        }
        Resume.in(kept(), told::add).close();
    }
}
