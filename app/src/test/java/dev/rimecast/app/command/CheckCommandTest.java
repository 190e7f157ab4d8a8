package dev.rimecast.app.command;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.rules.Book;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

class CheckCommandTest {
    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();

    @TempDir
    Path directory;

    @Test
    void rules_legalBooks_areNamed() throws IOException {
        for (Book book : Book.values()) {
            Files.writeString(directory.resolve(book.file()), book.standardText());
        }

        assertThat(check()).isEqualTo(ExitCode.OK);
        assertThat(out.toString()).contains("priority.yaml, cases.yaml, life.yaml, advice.yaml can be saved");
    }

    @Test
    void rules_wrongBooks_areToldTogetherWithLineAndPath() throws IOException {
        Files.writeString(
                directory.resolve("life.yaml"), Book.LIFE.standardText().replace("14d", "long"));
        Files.writeString(
                directory.resolve("advice.yaml"),
                Book.ADVICE.standardText().replace("cautions: [dust]", "cautions: [food]"));

        assertThat(check()).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString())
                .containsPattern("life\\.yaml:\\d+: longest_shelf: must be a time")
                .containsPattern("advice\\.yaml:\\d+: causes\\.airflow-restricted\\.cautions: lacks dust");
    }

    @Test
    void config_wrongEngineersAndParts_areToldWithTheirLines() throws IOException {
        Path config = Files.writeString(directory.resolve("rimecast.yaml"), """
                fleet:
                  engineers: engineers.csv
                  parts: parts.csv
                """);
        Files.writeString(directory.resolve("engineers.csv"), "engineer,skills,days\nNoa,appliance,someday\n");
        Files.writeString(directory.resolve("parts.csv"), "part,lead_days\nFan motor,soon\n");

        int code = check(config.toString());

        assertThat(code).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString())
                .containsPattern("engineers\\.csv:2: days: must be days")
                .containsPattern("parts\\.csv:2: lead_days: must be");
    }

    @Test
    void rules_bookLongerThanThePageTakes_isRefusedHere() throws IOException {
        Files.writeString(
                directory.resolve("life.yaml"), Book.LIFE.standardText() + "# " + "x".repeat(Book.LONGEST_TEXT));

        assertThat(check()).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("life.yaml: has ", "leave at most 240000");
    }

    @Test
    void rules_noBookThere_isSaid() {
        assertThat(check()).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("holds none of priority.yaml");
    }

    private int check() {
        return check("--rules", directory.toString());
    }

    private int check(String... arguments) {
        CommandLine command = RootCommand.commandLine();
        command.setOut(new PrintWriter(out, true));
        command.setErr(new PrintWriter(err, true));
        return command.execute(
                Stream.concat(Stream.of("check"), Stream.of(arguments)).toArray(String[]::new));
    }
}
