package dev.rimecast.app.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

class ScoreCommandTest {
    @TempDir
    Path directory;

    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();

    @BeforeEach
    void files() throws IOException {
        write("machines.csv", """
                machine,site,gateway
                ice-1,s-1,gw-1
                ice-2,s-1,gw-1
                """);
        write("truth.csv", """
                machine,cause,onset,stopped,deadline
                ice-1,scale,2026-01-21T00:00:00Z,,2026-03-02T00:00:00Z
                ice-2,none,,,
                """);
        write("alerts.csv", """
                alert,machine,condition,raised_at,probable_cause,cause_probability
                a-1,ice-1,long-harvest,2026-01-31T00:00:00Z,scale,0.8
                """);
    }

    private void write(String name, String text) throws IOException {
        Files.writeString(directory.resolve(name), text);
    }

    private int run(String... more) {
        List<String> line = new ArrayList<>(List.of("score"));
        for (String name : List.of("truth", "alerts")) {
            line.add("--" + name);
            line.add(directory.resolve(name + ".csv").toString());
        }
        line.add("--register");
        line.add(directory.resolve("machines.csv").toString());
        line.addAll(List.of(more));
        CommandLine command = RootCommand.commandLine();
        command.setOut(new PrintWriter(out));
        command.setErr(new PrintWriter(err));
        return command.execute(line.toArray(String[]::new));
    }

    @Test
    void score_ofAFaultFoundAfterAQuarterOfItsTime_saysSo() {
        int code = run("--from", "2026-01-01T00:00:00Z", "--to", "2026-04-01T00:00:00Z", "--details");

        assertThat(code).isEqualTo(ExitCode.OK);
        // Onset to deadline 40 days, found after 10: three quarters are left.
        assertThat(out.toString()).contains("scale").contains("lead 0.75").contains("False alarms: 0");
    }

    @Test
    void json_isOneObject() {
        int code = run("--from", "2026-01-01T00:00:00Z", "--to", "2026-04-01T00:00:00Z", "--json");

        assertThat(code).isEqualTo(ExitCode.OK);
        assertThat(out.toString().strip()).startsWith("{\"v\":1,").endsWith("}").contains("\"lead_median\":0.75");
    }

    @Test
    void record_ofUnknownLength_isRefusedWithWhatToGive() {
        int code = run();

        assertThat(code).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("--cycles").contains("--from");
    }

    @Test
    void truth_withAWordThatIsNoCause_isRefusedWithFileAndLine() throws IOException {
        write("truth.csv", """
                machine,cause,onset,stopped,deadline
                ice-1,scales,2026-01-21T00:00:00Z,,2026-03-02T00:00:00Z
                """);

        int code = run("--from", "2026-01-01T00:00:00Z", "--to", "2026-04-01T00:00:00Z");

        assertThat(code).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("truth.csv:2: cause").contains("did you mean 'scale'?");
        assertThat(err.toString()).doesNotContain("InputProblems");
    }

    @Test
    void truth_thatIsNotThere_isRefusedWithItsName() throws IOException {
        Files.delete(directory.resolve("truth.csv"));

        int code = run("--from", "2026-01-01T00:00:00Z", "--to", "2026-04-01T00:00:00Z");

        assertThat(code).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("there is no file").contains("truth.csv");
    }

    @Test
    void simulate_ofATrialWithAWrongCause_isRefusedWithWhatThereIs() {
        CommandLine command = RootCommand.commandLine();
        command.setErr(new PrintWriter(err));

        int code = command.execute(
                "simulate",
                "--trial",
                "--faults",
                "grease",
                "--out",
                directory.resolve("t").toString());

        assertThat(code).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("grease").contains("all, none");
    }
}
