package dev.rimecast.app.command;

import static org.assertj.core.api.Assertions.assertThat;

import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.InetSocketAddress;
import java.net.URISyntaxException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

/** Both commands as they are typed; what they do is tested with real engines in {@code dev.rimecast.app.backup}. */
class BackupCommandTest {
    @TempDir
    Path directory;

    private final AtomicReference<String> received = new AtomicReference<>("");
    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();
    private HttpServer server;
    private int status = 200;
    private byte[] answer = {};

    @BeforeEach
    void start() throws IOException {
        server = HttpServer.create(new InetSocketAddress("127.0.0.1", 0), 0);
        server.createContext("/", exchange -> {
            received.set(exchange.getRequestMethod()
                    + ' '
                    + exchange.getRequestURI()
                    + ' '
                    + exchange.getRequestHeaders().getFirst("Authorization"));
            exchange.sendResponseHeaders(status, answer.length);
            exchange.getResponseBody().write(answer);
            exchange.close();
        });
        server.start();
    }

    @AfterEach
    void stop() {
        server.stop(0);
    }

    private static byte[] golden() throws IOException, URISyntaxException {
        return Files.readAllBytes(
                Path.of(Objects.requireNonNull(BackupCommandTest.class.getResource("/golden/golden-0.1.0-SNAPSHOT.zip"))
                        .toURI()));
    }

    private int backup(Path file) {
        return line(new BackupCommand(new ServerOptions(Map.of("RIMECAST_TOKEN", "secret"))))
                .execute(
                        file.toString(),
                        "--server",
                        "http://127.0.0.1:" + server.getAddress().getPort());
    }

    private CommandLine line(Object command) {
        return new CommandLine(command)
                .setOut(new PrintWriter(out))
                .setErr(new PrintWriter(err))
                .setExecutionExceptionHandler(new Failures());
    }

    @Test
    void backup_ofARunningServer_isCheckedAndForItsOwnerOnly() throws Exception {
        answer = golden();
        Path file = directory.resolve("rimecast.zip");

        assertThat(backup(file)).isEqualTo(ExitCode.OK);

        assertThat(received.get()).isEqualTo("POST /api/v1/system/backup Bearer secret");
        assertThat(file).hasBinaryContent(answer);
        assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(file)))
                .isEqualTo("rw-------");
        assertThat(out.toString())
                .contains(file + ": " + answer.length + " bytes, the state of ")
                .contains("rows")
                .contains("topics");
    }

    @Test
    void backup_thatArrivesTorn_leavesNoFile() throws Exception {
        answer = java.util.Arrays.copyOf(golden(), 50_000);

        assertThat(backup(directory.resolve("rimecast.zip"))).isEqualTo(ExitCode.WRONG_INPUT);

        assertThat(err.toString()).contains("breaks off before its end");
        assertThat(directory).isEmptyDirectory();
    }

    @Test
    void backup_thatTheServerRefuses_saysWhy_andLeavesNoFile() {
        status = 409;
        answer = "{\"detail\":\"a backup is being made already: try again when it has ended\"}"
                .getBytes(StandardCharsets.UTF_8);

        assertThat(backup(directory.resolve("rimecast.zip"))).isEqualTo(ExitCode.WRONG_INPUT);

        assertThat(err.toString()).contains("409").contains("is being made already");
        assertThat(directory).isEmptyDirectory();
    }

    @Test
    void backup_overAFileThatIsThere_isRefused() throws IOException {
        Path file = Files.writeString(directory.resolve("rimecast.zip"), "mine");
        Path other = directory.resolve("other.zip");
        Path part = Files.writeString(directory.resolve("other.zip.part"), "mine");

        assertThat(backup(file)).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(backup(other)).isEqualTo(ExitCode.WRONG_INPUT);

        assertThat(file).hasContent("mine");
        assertThat(part).hasContent("mine");
        assertThat(received.get()).isEmpty();
        assertThat(err.toString())
                .contains("rimecast.zip is there already")
                .contains("other.zip.part is there already");
    }

    @Test
    void backup_ofADirectoryThatIsNone_saysSo() {
        int exit = line(new BackupCommand(new ServerOptions(Map.of())))
                .execute(directory.resolve("b.zip").toString(), "--data", directory.toString());

        assertThat(exit).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("is no data directory of Rimecast");
    }

    @Test
    void restore_ofNoFile_orOfSomethingElse_saysSo() throws IOException {
        Path text = Files.writeString(directory.resolve("note.txt"), "mine");
        String data = directory.resolve("data").toString();

        assertThat(line(new RestoreCommand())
                        .execute(directory.resolve("none.zip").toString(), "--data", data))
                .isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(line(new RestoreCommand()).execute(text.toString(), "--data", data))
                .isEqualTo(ExitCode.WRONG_INPUT);

        assertThat(err.toString()).contains("there is no file").contains("note.txt is no backup");
        assertThat(directory.resolve("data")).doesNotExist();
    }
}
