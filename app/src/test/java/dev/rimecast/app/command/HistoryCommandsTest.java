package dev.rimecast.app.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

/** What an analyst types, with the samples, and what is said where it can't be answered. */
class HistoryCommandsTest {
    private static final Path SAMPLES = Path.of("../samples");

    @TempDir
    Path directory;

    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();

    private int run(String... arguments) {
        CommandLine line = RootCommand.commandLine();
        line.setOut(new PrintWriter(out));
        line.setErr(new PrintWriter(err));
        return line.execute(arguments);
    }

    private int onSamples(String command, String... more) {
        List<String> arguments = new ArrayList<>(List.of(
                command,
                SAMPLES.resolve("telemetry.csv.gz").toString(),
                "--register",
                SAMPLES.resolve("machines.csv").toString(),
                "--events",
                SAMPLES.resolve("events.csv").toString(),
                "--truth",
                SAMPLES.resolve("truth.csv").toString()));
        arguments.addAll(Stream.of(more).toList());
        return run(arguments.toArray(String[]::new));
    }

    /** By the samples' README the dirty condenser is found on 20 April, and nothing on the other machine. */
    @Test
    void backtest_ofTheSamples_besideAPolicyThatIsLater() throws IOException {
        Path late = directory.resolve("late.yaml");
        Files.writeString(late, "version: late\nall:\n  change:\n    false_alarms_per_machine_year: 0.001\n");

        int code = onSamples(
                "backtest",
                "--against",
                late.toString(),
                "--out",
                directory.toString(),
                "--pages",
                "https://ice.example/");

        assertThat(code).as(err.toString()).isEqualTo(ExitCode.OK);
        assertThat(out.toString())
                .containsPattern("airflow-restricted +1 of 1")
                .containsPattern("Alerts: right, wrong +1, 0")
                .containsPattern(
                        "lantern-kitchen-2 airflow-restricted +\\d+\\.\\d days before +\\d+\\.\\d days before");
        assertThat(Files.readString(directory.resolve("1-live/alerts.csv")))
                .contains("lantern-kitchen-2,rising-condensing-temperature");
        assertThat(directory.resolve("2-late/alerts.csv")).exists();
        String plots = "https://ice.example/machines/lantern-kitchen-2?hours=168&to=2026-04-";
        assertThat(out.toString()).contains(plots);
        assertThat(Files.readString(directory.resolve("by_machine.csv")).lines())
                .hasSize(1 + 2)
                .startsWith(
                        "machine,policy,problems,known,missed,earlier,later,right,wrong,unlabelled,contradicting,plots")
                .anyMatch(row -> row.startsWith("lantern-kitchen-2,live,1,1,0,1,0,1,0,0,0," + plots))
                .anyMatch(row -> row.startsWith("lantern-kitchen-2,late.yaml,1,1,0,0,1,1,0,0,0," + plots));
        assertThat(Files.readString(directory.resolve("by_cause.csv")).lines())
                .anyMatch(row -> row.startsWith("airflow-restricted,live,1,1,0,1,0,1,0,0,0," + plots));
    }

    @Test
    void tune_ofTheSamples_writesAPolicyAndAReport() throws IOException {
        Path to = directory.resolve("tuned");

        int code = onSamples("tune", "--number", "change.false_alarms_per_machine_year=0.5", "--out", to.toString());

        assertThat(code).as(err.toString()).isEqualTo(ExitCode.OK);
        assertThat(Files.readString(to.resolve("report.txt")))
                .contains("Proposed: nothing")
                .contains("with fewer than 20 problems one more or less decides");
        assertThat(Files.readString(to.resolve("policy.yaml"))).contains("version: standard-1");
    }

    /** A past takes minutes or hours to decide, so a slip of the pen is told first. */
    @Test
    void filesWithMistakes_areNamed_beforeAnythingIsDecided() throws IOException {
        Path marks = Files.writeString(directory.resolve("marks.csv"), "machine,from,to,mark\nice-1,yesterday,,real\n");
        Path truth = Files.writeString(directory.resolve("truth.csv"), "machine,cause\nice-1,moon\n");
        Path policy = Files.writeString(directory.resolve("bold.yaml"), "all:\n  change:\n    clear_hours: soon\n");
        for (List<String> wrong : List.of(
                List.of("--marks", marks.toString()),
                List.of("--truth", truth.toString()),
                List.of("--against", policy.toString()))) {
            out.getBuffer().setLength(0);
            err.getBuffer().setLength(0);

            int code = run(Stream.concat(
                            Stream.of(
                                    "backtest",
                                    SAMPLES.resolve("telemetry.csv.gz").toString(),
                                    "--register",
                                    SAMPLES.resolve("machines.csv").toString()),
                            wrong.stream())
                    .toArray(String[]::new));

            assertThat(code).isEqualTo(ExitCode.WRONG_INPUT);
            assertThat(err.toString()).startsWith(wrong.get(1) + ":");
            assertThat(out.toString()).isEmpty();
        }
    }

    @Test
    void whatCannotBeAnswered_isSaid_andNothingWritten() {
        Path none = directory.resolve("none");

        assertThat(run("query", "--history", none.toString(), "select 1")).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("there is no history in " + none);
        assertThat(run("export", "readings", directory.resolve("x.csv").toString(), "--history", none.toString()))
                .isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(run("fleet", "--history", none.toString())).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(run("fleet", "--days", "0")).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("--days and --fit-days must be at least 1, were 0 and 14");
        assertThat(run("export", "moods", "x.csv")).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("there is no view moods: readings, cycles");
        assertThat(run("backtest", SAMPLES.resolve("telemetry.csv.gz").toString()))
                .isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("--register is missing");
        assertThat(run("backtest", "--history", none.toString(), "--threads", "0"))
                .isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(run("backtest", "--history", none.toString(), "--days", "0")).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("--days must be at least 1, was 0");
        assertThat(run("backtest", "--history", none.toString(), "--pages", "ice.example"))
                .isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("--pages must be an address such as https://ice.example, was ice.example");
        assertThat(onSamples("backtest", "--days", "7")).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("--days is of the history");
        assertThat(onSamples("tune", "--number", "change.clear_hours=24", "--out", none.toString(), "--resume", "kept"))
                .isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("--resume is of the history");
        assertThat(run("tune", "--number", "change.moon=1", "--out", none.toString()))
                .isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("change.moon");
        assertThat(run("tune", "--number", "moon", "--out", none.toString())).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(run("query", "--csv", "--json", "select 1")).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(none).doesNotExist();
    }
}
