package dev.rimecast.history.query;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.history.ToyLog;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.history.table.Column;
import dev.rimecast.history.table.Table;
import dev.rimecast.telemetry.file.log.LogRow;
import dev.rimecast.telemetry.file.log.TelemetryLogReader;
import dev.rimecast.telemetry.file.result.AlertsFile;
import dev.rimecast.telemetry.file.result.CyclesFile;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

class HistoryTest {
    @TempDir
    Path root;

    private HistoryWriter writer() {
        HistoryDirectory directory = new HistoryDirectory(root.resolve("h"));
        return HistoryWriter.open(
                directory, new Duck.Limits(128, 1, root.resolve("spill")), new Views(directory)::script);
    }

    private History history(ToyLog log) {
        writer().add(log.records(), log.positions(), List.of());
        return History.open(root.resolve("h"), 128, false);
    }

    private static ToyLog aFaultAndItsEnd() {
        ToyLog log = new ToyLog().minute(1, "ice-1", -3).cycle(2, "ice-1").tick(3);
        findings().forEach(log::finding);
        return log.event(90, "ice-1", EventKind.VISIT, "scale")
                .event(50, "", EventKind.CALL, "little-ice")
                .event(5, "ice-2", EventKind.CALL, "no-ice");
    }

    private static List<Finding> findings() {
        return List.of(
                ToyLog.revision(10, 1, 10, Step.RAISED, Stage.EARLY, "Slow.", Cause.SCALE),
                ToyLog.revision(
                        10, 2, 20, Step.UPDATED, Stage.AT_LIMIT, "Slower, with a comma.", Cause.FAN_WEAK, Cause.SCALE),
                ToyLog.revision(10, 3, 30, Step.UPDATED, Stage.AT_LIMIT, "", Cause.SCALE, Cause.FAN_WEAK),
                ToyLog.revision(10, 4, 100, Step.CLEARED, Stage.EARLY, "Over."),
                ToyLog.revision(200, 1, 200, Step.RAISED, Stage.EARLY, "Again.", Cause.SCALE));
    }

    /** The same findings, written by the code that writes the results of a replay. */
    @Test
    void alerts_areThoseOfAReplay() throws Exception {
        Path expected = root.resolve("expected.csv");
        AlertsFile.write(expected, findings());
        Path exported = root.resolve("alerts.csv");
        try (History history = history(aFaultAndItsEnd())) {
            assertThat(Export.write(history, View.ALERTS, Export.Part.ALL, exported))
                    .isEqualTo(2);
        }

        assertThat(AlertsFile.read(exported)).isEqualTo(AlertsFile.read(expected));
    }

    @Test
    void cycles_canBeReadBack() throws Exception {
        Path exported = root.resolve("cycles.csv.gz");
        try (History history = history(aFaultAndItsEnd())) {
            Export.write(history, View.CYCLES, Export.Part.ALL, exported);
        }

        assertThat(CyclesFile.read(exported)).singleElement().satisfies(cycle -> {
            assertThat(cycle.freezeStart()).isEqualTo(ToyLog.at(2));
            assertThat(cycle.freezeSeconds()).hasValue(1200);
            assertThat(cycle.complete()).isTrue();
        });
    }

    @Test
    void readings_areATelemetryLog_ofThePartThatIsWanted() throws Exception {
        long at = ToyLog.at(2).toEpochMilli() + 10;
        List<Reading> row = List.of(
                Reading.number("ice-1", Channel.EVAPORATOR_TEMPERATURE, at, -6.400000000000001),
                Reading.number("ice-1", Channel.SUPPLY_CURRENT, at, 1e-7),
                Reading.phase("ice-1", at, Phase.FREEZE),
                Reading.text("ice-1", Channel.CONTROLLER_STATUS, at, "says \"E4\", twice"),
                Reading.flag("ice-1", Channel.BIN_FULL, at, true));
        ToyLog log = new ToyLog()
                .pack(row.toArray(Reading[]::new))
                .minute(1, "ice-1", -1)
                .minute(2, "ice-2", -2)
                .minute(3, "ice-1", -3);
        Path file = root.resolve("log.csv.zst");
        try (History history = history(log)) {
            Export.Part part = new Export.Part(
                    Optional.of(ToyLog.at(2)),
                    Optional.of(ToyLog.at(3)),
                    Optional.of(ToyLog.SITE),
                    Optional.of("ice-1"));
            assertThat(Export.write(history, View.READINGS, part, file)).isEqualTo(1);
            assertThatThrownBy(() -> Export.write(history, View.READINGS, part, file))
                    .isInstanceOf(FileAlreadyExistsException.class);
            assertThatThrownBy(() -> Export.write(history, View.READINGS, part, root.resolve("log.txt")))
                    .hasMessageContaining(".parquet");
        }

        List<LogRow> rows = new ArrayList<>();
        try (TelemetryLogReader reader = TelemetryLogReader.open(file, reject -> {
            throw new AssertionError(reject.toString());
        })) {
            for (Optional<LogRow> next = reader.next(); next.isPresent(); next = reader.next()) {
                rows.add(next.get());
            }
        }
        assertThat(rows)
                .singleElement()
                .satisfies(read -> assertThat(read.readings()).containsExactlyInAnyOrderElementsOf(row));
    }

    /** Every column of a view, as another reader of Parquet has it from the file alone. */
    @ParameterizedTest
    @EnumSource(View.class)
    void parquet_hasEveryColumnAndRow(View view) throws Exception {
        Path file = root.resolve("exported.parquet");
        List<String> columns;
        List<String> rows;
        try (History history = history(aFaultAndItsEnd())) {
            columns = Answers.rows(history, "select column_name, column_type from (describe " + view.code() + ")");
            rows = Answers.rows(history, "select * from " + view.code());
            assertThat(Export.write(history, view, Export.Part.ALL, file)).isEqualTo(rows.size());
        }
        assertThat(Files.readAllBytes(file)).as("its magic").startsWith("PAR1".getBytes(StandardCharsets.US_ASCII));
        try (History other = History.open(root.resolve("h"), 128, false)) {
            String from = "read_parquet(" + Duck.literal(file.toString()) + ")";
            assertThat(Answers.rows(
                            other, "select column_name, column_type from (describe select * from " + from + ")"))
                    .isEqualTo(columns);
            assertThat(Answers.rows(other, "select * from " + from)).containsExactlyInAnyOrderElementsOf(rows);
            assertThat(rows.isEmpty()).as("of work there is none").isEqualTo(view == View.PROOFS);
        }
    }

    /** A call is a miss where no alert stood about its machine in the three days up to it, as the pages count it. */
    @Test
    void outcomes_sayWhatWasKnownBefore() throws Exception {
        try (History history = history(aFaultAndItsEnd())) {
            assertThat(
                            Answers.rows(
                                    history,
                                    "select outcome, event, detail, coalesce(machine, '-'), was_known, said_by from outcomes order by happened_at"))
                    .containsExactly(
                            "called|call|no-ice|ice-2|0|Pim",
                            "called|call|little-ice|-|1|Pim",
                            "found|visit|scale|ice-1|1|Pim");
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "create table t as select 1",
                "drop view readings",
                "copy (select 1) to '/tmp/rimecast-should-not-be.csv'",
                "attach '/tmp/rimecast-should-not-be.db'",
                "set memory_limit = '10GB'",
                "select 1; delete from readings",
                "pragma database_list",
                "install httpfs",
                "insert into readings select * from readings",
            })
    void whatChangesSomething_isRefused(String sql) throws Exception {
        try (History history = history(new ToyLog().minute(1, "ice-1", -3))) {
            assertThatThrownBy(() -> Answers.rows(history, sql))
                    .isInstanceOf(HistoryException.class)
                    .hasMessageContaining("for reading");
            assertThat(Answers.rows(history, "select count(*) from readings")).containsExactly("1");
        }
        assertThat(Path.of("/tmp/rimecast-should-not-be.csv")).doesNotExist();
    }

    @Test
    void whatReads_isAnswered_andWrongNamesAreSaid() throws Exception {
        try (History history = history(new ToyLog().minute(1, "ice-1", -3))) {
            assertThat(Answers.rows(history, "describe readings").get(0)).startsWith("time|TIMESTAMP");
            assertThat(Answers.rows(history, "from readings select machine;")).containsExactly("ice-1");
            assertThat(Answers.rows(history, "summarize select evaporator_temperature from readings"))
                    .hasSize(1);
            assertThat(Answers.rows(history, "with a as (select 1 as b) select b from a"))
                    .containsExactly("1");
            assertThatThrownBy(() -> Answers.rows(history, "select * from reading"))
                    .isInstanceOf(HistoryException.class)
                    .hasMessageContaining("There are: readings");
            assertThatThrownBy(() -> Answers.rows(history, "select from where"))
                    .isInstanceOf(HistoryException.class)
                    .hasMessageContaining("yntax");
        }
    }

    @Test
    void withoutAHistory_itSaysWhereOneWouldBe() {
        assertThatThrownBy(() -> History.open(root.resolve("none"), 128, false))
                .isInstanceOf(HistoryException.class)
                .hasMessageContaining("there is no history in " + root.resolve("none"));
    }

    @Test
    void printed() throws Exception {
        String sql = "select * from (values (1, 'a\"b', 2.5::double, true, timestamp '2026-03-01 00:00:01'),"
                + " (20, null, -0.0000125::double, false, null)) t(n, s, d, f, t)";
        try (History history = history(new ToyLog().tick(1))) {
            assertThat(printed(history, sql, Printers::csv))
                    .isEqualTo("n,s,d,f,t\n1,\"a\"\"b\",2.5,1,2026-03-01T00:00:01.000Z\n20,,-1.25E-5,0,\n");
            assertThat(printed(history, sql, Printers::json))
                    .isEqualTo("{\"n\":1,\"s\":\"a\\\"b\",\"d\":2.5,\"f\":true,\"t\":\"2026-03-01T00:00:01.000Z\"}\n"
                            + "{\"n\":20,\"s\":null,\"d\":-1.25E-5,\"f\":false,\"t\":null}\n");
            assertThat(printed(history, sql, Printers::table))
                    .isEqualTo("n   s    d          f  t\n1   a\"b  2.5        1  2026-03-01T00:00:01.000Z\n"
                            + "20       -1.25e-05  0\n(2 rows)\n");
        }
    }

    private static String printed(History history, String sql, java.util.function.Function<PrintWriter, Answer> printer)
            throws Exception {
        StringWriter text = new StringWriter();
        PrintWriter out = new PrintWriter(text);
        history.ask(sql, printer.apply(out));
        out.flush();
        return text.toString().replace(System.lineSeparator(), "\n");
    }

    /** Everything that the page about the history shows can be typed, and every column is on it. */
    @Test
    void thePageAboutTheHistory_isTrue() throws Exception {
        String page = Files.readString(Path.of("../docs/history.md"));
        Matcher block = Pattern.compile("```sql\n(.*?)```", Pattern.DOTALL).matcher(page);
        List<String> tried = new ArrayList<>();
        try (History history = history(aFaultAndItsEnd())) {
            while (block.find()) {
                for (String sql : block.group(1).split(";")) {
                    if (!sql.isBlank()) {
                        Answers.rows(history, sql);
                        tried.add(sql);
                    }
                }
            }
            // what Python and R ask
            Matcher quoted =
                    Pattern.compile("(?:con\\.sql\\(|<- ask\\()\"(.*?)\"\\)").matcher(page);
            int elsewhere = 0;
            while (quoted.find()) {
                Answers.rows(history, quoted.group(1));
                elsewhere++;
            }
            assertThat(elsewhere).as("one of Python, one of R").isEqualTo(2);
            for (View view : View.values()) {
                for (String row : Answers.rows(history, "select column_name from (describe " + view.code() + ")")) {
                    assertThat(page).as("column of %s", view).contains("`" + row + "`");
                }
            }
        }
        assertThat(tried).hasSizeGreaterThan(5);
        for (Table table : Table.values()) {
            assertThat(table.columns()).extracting(Column::name).doesNotHaveDuplicates();
        }
    }

    /** What is written beside the files for other programs is what our own commands use. */
    @Test
    void theScriptOfViews_isAllThatAnotherDatabaseNeeds() throws Exception {
        history(aFaultAndItsEnd()).close();
        try (Duck other = Duck.open(new Duck.Limits(128, 1, root.resolve("spill")))) {
            other.run(Files.readString(root.resolve("h/views.sql")));
            List<String> counts = new ArrayList<>();
            other.ask(
                    "select (select count(*) from readings), (select count(*) from alerts), (select count(*) from outcomes)",
                    row -> counts.add(row.getString(1) + row.getString(2) + row.getString(3)));
            assertThat(counts).containsExactly("123");
        }
    }
}
