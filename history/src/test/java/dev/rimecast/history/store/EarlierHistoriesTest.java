package dev.rimecast.history.store;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.history.ToyLog;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.query.Answer;
import dev.rimecast.history.query.Answers;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.View;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.table.Table;
import dev.rimecast.history.table.Taken;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.EventKind;
import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Histories that earlier versions have written, each with what was in it, are read by this one and gone on with. */
class EarlierHistoriesTest {
    private static final String EXPECTED = "expected.txt";
    /** Of the log that they are of. */
    private static final int MINUTES = 40;

    @TempDir
    Path root;

    static Stream<Path> histories() throws IOException, URISyntaxException {
        Path kept = Path.of(Objects.requireNonNull(EarlierHistoriesTest.class.getResource("/golden"), "golden")
                .toURI());
        try (Stream<Path> files = Files.list(kept)) {
            return files.filter(Files::isDirectory).sorted().toList().stream();
        }
    }

    @ParameterizedTest
    @MethodSource("histories")
    void history_ofAnEarlierVersion_isReadWithAllThatWasInIt_andGoneOnWith(Path kept) throws Exception {
        Path own = root.resolve("history");
        copy(kept, own);
        List<String> expected = Files.readAllLines(own.resolve(EXPECTED));
        assertThat(expected).hasSizeGreaterThan(100);

        assertThat(inWords(own, expected)).isEqualTo(expected);

        HistoryWriter writer = open(own);
        ToyLog log = log();
        long before = log.records().size();
        List<Taken> all = log.minute(MINUTES, "ice-1", -9).records();
        List<Taken> more = all.subList((int) before, all.size());
        assertThat(writer.manifest().positions())
                .as("goes on where it was")
                .containsValue(more.get(0).offset());
        writer.add(more, ToyLog.positions(more), List.of());
        writer.tidy(Keep.STANDARD, ToyLog.at(3 * 1440), true);

        try (History history = History.open(own, 128, false, true)) {
            assertThat(Answers.rows(
                            history,
                            "select count(*), count(distinct time), min(evaporator_temperature) from readings"))
                    .containsExactly(MINUTES + 1 + "|" + (MINUTES + 1) + "|-39.0");
            assertThat(history.manifest().files())
                    .as("days of the log's first day are written anew, with sums")
                    .filteredOn(file -> file.table() == Table.READINGS)
                    .allSatisfy(file -> assertThat(file.sum()).isPresent());
        }
    }

    private static ToyLog log() {
        ToyLog log = new ToyLog("golden");
        for (int minute = 0; minute < MINUTES; minute++) {
            log.minute(minute, "ice-1", -minute).tick(minute);
        }
        return log.cycle(1, "ice-1")
                .finding(ToyLog.revision(
                        5, 1, 5, Finding.Step.RAISED, Stage.EARLY, "Slow pull-down.", Cause.AIRFLOW_RESTRICTED))
                .finding(ToyLog.revision(5, 2, 30, Finding.Step.CLEARED, Stage.EARLY, "As it should be."))
                .event(6, "", EventKind.CALL, "no-ice")
                .event(20, "ice-1", EventKind.VISIT, Cause.AIRFLOW_RESTRICTED.code())
                .garbage();
    }

    private HistoryWriter open(Path own) {
        HistoryDirectory directory = new HistoryDirectory(own);
        return HistoryWriter.open(
                directory, new Duck.Limits(128, 1, root.resolve("spill")), new Views(directory)::script);
    }

    /** The rows of every view, in the columns that it had then: a head, {@code view: columns}, and its rows. */
    private static List<String> inWords(Path own, List<String> heads) throws IOException {
        List<String> lines = new ArrayList<>();
        try (History history = History.open(own, 128, false)) {
            for (String head :
                    heads.stream().filter(line -> line.startsWith("view ")).toList()) {
                lines.add(head);
                String[] parts = head.substring("view ".length()).split(": ", 2);
                lines.addAll(Answers.rows(history, "select " + parts[1] + " from " + parts[0] + " order by all"));
            }
        }
        return lines;
    }

    private static List<String> columns(History history, View view) throws IOException {
        List<String> columns = new ArrayList<>();
        history.ask("select * from " + view.code() + " limit 0", new Answer() {
            @Override
            public void columns(List<String> names) {
                columns.addAll(names);
            }

            @Override
            public void row(List<@Nullable Object> cells) {
                throw new AssertionError("none was asked for");
            }

            @Override
            public void end() {
                // Nothing follows.
            }
        });
        return columns;
    }

    private static void copy(Path from, Path to) throws IOException {
        try (Stream<Path> files = Files.walk(from)) {
            for (Path file : files.toList()) {
                Path copy = to.resolve(from.relativize(file).toString());
                if (Files.isDirectory(file)) {
                    Files.createDirectories(copy);
                } else {
                    Files.copy(file, copy);
                }
            }
        }
    }

    /** Writes another one, half of it as days and half as batches; see DEVELOPERS.md. */
    @Test
    @EnabledIfSystemProperty(named = "golden", matches = ".+")
    void write() throws Exception {
        Path own = Path.of(System.getProperty("golden"));
        HistoryWriter writer = open(own);
        List<Taken> all = log().records();
        List<Taken> first = all.subList(0, MINUTES);
        writer.add(first, ToyLog.positions(first), List.of());
        writer.tidy(Keep.STANDARD, ToyLog.at(1440), true);
        List<Taken> rest = all.subList(MINUTES, all.size());
        writer.add(rest, ToyLog.positions(rest), List.of());
        List<String> heads = new ArrayList<>();
        try (History history = History.open(own, 128, false)) {
            for (View view : View.values()) {
                heads.add("view " + view.code() + ": " + String.join(", ", columns(history, view)));
            }
        }
        Files.write(own.resolve(EXPECTED), inWords(own, heads));
        // It has the paths of this machine in it, and is made anew.
        Files.deleteIfExists(own.resolve(HistoryDirectory.VIEWS));
    }
}
