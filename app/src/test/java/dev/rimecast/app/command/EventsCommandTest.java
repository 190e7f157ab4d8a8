package dev.rimecast.app.command;

import static org.assertj.core.api.Assertions.assertThat;

import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

/** The command over real HTTP, against a server that answers as the API's description has it. */
class EventsCommandTest {
    private static final String CSV = "time,machine,event\n2026-05-04T09:30:00Z,ice-0003,cleaned\n";

    @TempDir
    Path directory;

    private final AtomicReference<String> received = new AtomicReference<>("");
    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();
    private HttpServer server;
    private Path file;
    private int status = 200;
    private String answer = "";

    @BeforeEach
    void start() throws IOException {
        file = Files.writeString(directory.resolve("events.csv"), CSV);
        server = HttpServer.create(new InetSocketAddress("127.0.0.1", 0), 0);
        server.createContext("/", exchange -> {
            received.set(exchange.getRequestMethod()
                    + ' '
                    + exchange.getRequestURI()
                    + ' '
                    + exchange.getRequestHeaders().getFirst("Authorization")
                    + ' '
                    + exchange.getRequestHeaders().getFirst("Content-Type")
                    + '\n'
                    + new String(exchange.getRequestBody().readAllBytes(), StandardCharsets.UTF_8));
            byte[] bytes = answer.getBytes(StandardCharsets.UTF_8);
            exchange.sendResponseHeaders(status, bytes.length);
            exchange.getResponseBody().write(bytes);
            exchange.close();
        });
        server.start();
    }

    @AfterEach
    void stop() {
        server.stop(0);
    }

    private int run(Map<String, String> environment, String... more) {
        CommandLine line = new CommandLine(new EventsCommand(new ServerOptions(environment)))
                .setOut(new PrintWriter(out))
                .setErr(new PrintWriter(err))
                .setExecutionExceptionHandler(new Failures());
        String[] args = new String[3 + more.length];
        args[0] = file.toString();
        args[1] = "--server";
        args[2] = "http://127.0.0.1:" + server.getAddress().getPort() + "/";
        System.arraycopy(more, 0, args, 3, more.length);
        return line.execute(args);
    }

    @Test
    void events_allTaken_sendsTheFileWithTheTokenAndEndsWell() {
        answer = "{\"rows\":1,\"added\":1,\"known\":0,\"refused\":0,\"problems\":[]}";

        int exit = run(Map.of("RIMECAST_TOKEN", "secret"));

        assertThat(exit).isEqualTo(ExitCode.OK);
        assertThat(received.get()).isEqualTo("POST /api/v1/events/import Bearer secret text/csv\n" + CSV);
        assertThat(out.toString()).contains("1 rows: 1 added, 0 known already, 0 not taken");
    }

    @Test
    void events_someRefused_namesLineAndReason() throws IOException {
        answer = "{\"rows\":2,\"added\":1,\"known\":0,\"refused\":1,\"problems\":["
                + "{\"line\":3,\"column\":\"event\",\"problem\":\"must be one of call, visit\"}]}";
        Path token = Files.writeString(directory.resolve("token"), "secret\n");

        int exit = run(Map.of(), "--token-file", token.toString());

        assertThat(exit).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(out.toString()).contains(file + ":3: event: must be one of call, visit");
    }

    @Test
    void events_refusedByTheServer_saysWhy() {
        status = 403;
        answer = "{\"detail\":\"Your role does not allow this: report.\"}";

        assertThat(run(Map.of("RIMECAST_TOKEN", "secret"))).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("403").contains("does not allow this: report");
    }

    @Test
    void events_withoutTokenOrFile_saysWhatIsMissing() {
        assertThat(run(Map.of())).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("RIMECAST_TOKEN");
        file = directory.resolve("none.csv");
        assertThat(run(Map.of("RIMECAST_TOKEN", "secret"))).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("there is no file");
        assertThat(received.get()).isEmpty();
    }
}
