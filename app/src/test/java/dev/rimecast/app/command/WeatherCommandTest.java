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
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

/** The command over real HTTP; sending, tokens and failures are those of {@link EventsCommandTest}. */
class WeatherCommandTest {
    private static final String CSV = "site,date,max_c\nsite-1,2026-07-01,31.5\nnowhere,2026-07-01,20\n";

    @TempDir
    Path directory;

    @Test
    void weather_sendsTheFile_andNamesWhatWasNotTaken() throws IOException {
        Path file = Files.writeString(directory.resolve("weather.csv"), CSV);
        AtomicReference<String> received = new AtomicReference<>("");
        StringWriter out = new StringWriter();
        HttpServer server = HttpServer.create(new InetSocketAddress("127.0.0.1", 0), 0);
        server.createContext("/", exchange -> {
            received.set(exchange.getRequestMethod()
                    + ' '
                    + exchange.getRequestURI()
                    + '\n'
                    + new String(exchange.getRequestBody().readAllBytes(), StandardCharsets.UTF_8));
            byte[] bytes =
                    ("{\"rows\":2,\"taken\":1,\"sites\":1,\"refused\":1,\"problems\":[{\"line\":3,\"column\":\"site\","
                                    + "\"problem\":\"No site nowhere in the register.\"}]}")
                            .getBytes(StandardCharsets.UTF_8);
            exchange.sendResponseHeaders(200, bytes.length);
            exchange.getResponseBody().write(bytes);
            exchange.close();
        });
        server.start();
        try {
            int exit = new CommandLine(new WeatherCommand(new ServerOptions(Map.of("RIMECAST_TOKEN", "secret"))))
                    .setOut(new PrintWriter(out))
                    .execute(
                            file.toString(),
                            "--server",
                            "http://127.0.0.1:" + server.getAddress().getPort() + "/");

            assertThat(exit).isEqualTo(ExitCode.WRONG_INPUT);
        } finally {
            server.stop(0);
        }
        assertThat(received.get()).isEqualTo("POST /api/v1/weather\n" + CSV);
        assertThat(out.toString())
                .contains(file + ":3: site: No site nowhere in the register.")
                .contains("2 rows: 1 taken for 1 site, 1 not taken");
    }
}
