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
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

/** What the command asks of a server, and what it makes of the answers. */
class GatewayCommandTest {
    private static final String MADE = "{\"id\":\"5f0c1a52-3c65-4e0c-8a8e-6f4a6b1b3c11\",\"gateway\":\"gw-1\","
            + "\"kind\":\"secret\",\"secret\":\"s3cret\",\"addedAt\":\"2026-05-04T00:01:10Z\",\"addedBy\":\"Ada\"}";

    @TempDir
    Path directory;

    private final List<String> received = new ArrayList<>();
    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();
    private HttpServer server;
    private int status = 201;
    private String answer = MADE;

    @BeforeEach
    void start() throws IOException {
        server = HttpServer.create(new InetSocketAddress("127.0.0.1", 0), 0);
        server.createContext("/", exchange -> {
            received.add(exchange.getRequestMethod()
                    + ' '
                    + exchange.getRequestURI()
                    + ' '
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

    private int run(String... arguments) {
        List<String> all = new ArrayList<>(List.of(arguments));
        all.addAll(List.of("--server", "http://127.0.0.1:" + server.getAddress().getPort()));
        return new CommandLine(new GatewayCommand(new ServerOptions(Map.of("RIMECAST_TOKEN", "t"))))
                .setOut(new PrintWriter(out))
                .setErr(new PrintWriter(err))
                .setExecutionExceptionHandler(new Failures())
                .execute(all.toArray(String[]::new));
    }

    @Test
    void add_printsTheSecretOnce_withTheUserThatGoesWithIt() {
        assertThat(run("add", "gw-1")).isEqualTo(ExitCode.OK);
        assertThat(received).containsExactly("POST /api/v1/gateways/gw-1/credentials {}");
        assertThat(out.toString()).contains("user:   gw-1", "secret: s3cret", "this once");
    }

    @Test
    void add_withACertificate_sendsIt() throws IOException {
        answer = "{\"gateway\":\"gw-1\",\"kind\":\"certificate\",\"sha256\":\"ab12\"}";
        Path file = Files.writeString(directory.resolve("gw.crt"), "-----BEGIN CERTIFICATE-----");
        assertThat(run("add", "gw-1", "--certificate", file.toString())).isEqualTo(ExitCode.OK);
        assertThat(received.get(0)).contains("\"certificate\":\"-----BEGIN CERTIFICATE-----\"");
        assertThat(out.toString()).contains("ab12").doesNotContain("secret");
    }

    @Test
    void rotate_saysForHowLongTheOldOneHolds() {
        assertThat(run("rotate", "gw-1", "--grace", "2")).isEqualTo(ExitCode.OK);
        assertThat(received).containsExactly("POST /api/v1/gateways/gw-1/credentials/rotate {\"graceHours\":2}");
        assertThat(out.toString()).contains("2 more hours");
    }

    @Test
    void rotate_withACertificate_sendsIt_withTheTimeThatTheOldOneHolds() throws IOException {
        answer = "{\"gateway\":\"gw-1\",\"kind\":\"certificate\",\"sha256\":\"ab12\"}";
        Path file = Files.writeString(directory.resolve("next.crt"), "-----BEGIN CERTIFICATE-----");
        assertThat(run("rotate", "gw-1", "--certificate", file.toString(), "--grace", "0"))
                .isEqualTo(ExitCode.OK);
        assertThat(received.get(0))
                .startsWith("POST /api/v1/gateways/gw-1/credentials/rotate ")
                .contains("\"certificate\":\"-----BEGIN CERTIFICATE-----\"", "\"graceHours\":0");
        assertThat(out.toString()).contains("certificate, SHA-256 ab12", "old one has ended");
    }

    @Test
    void revoke_ofOneKey_namesItByItsFingerprint() {
        status = 200;
        answer = '[' + MADE.replace("\"secret\":\"s3cret\",", "\"fingerprint\":\"0123456789ab\",") + ']';
        assertThat(run("revoke", "gw-1", "--fingerprint", "01:23:45:67:89:AB")).isEqualTo(ExitCode.OK);
        assertThat(received)
                .containsExactly(
                        "POST /api/v1/gateways/gw-1/credentials/revoke {\"fingerprint\":\"01:23:45:67:89:AB\"}");
        assertThat(run("list")).isEqualTo(ExitCode.OK);
        assertThat(out.toString()).contains("1 key of gateway gw-1 revoked", "gw-1\tsecret 0123456789ab\tsince");
    }

    @Test
    void revoke_andList_tellWhatThereIs() {
        status = 200;
        answer = '['
                + MADE.replace("\"secret\":\"s3cret\",", "")
                        .replace("}", ",\"endedAt\":\"2026-05-05T00:00:00Z\",\"endedBy\":\"Ben\"}")
                + ']';
        assertThat(run("revoke", "gw-1")).isEqualTo(ExitCode.OK);
        assertThat(run("list")).isEqualTo(ExitCode.OK);
        assertThat(received)
                .containsExactly(
                        "POST /api/v1/gateways/gw-1/credentials/revoke {}", "GET /api/v1/gateway-credentials ");
        assertThat(out.toString())
                .contains("1 key of gateway gw-1 revoked", "by Ada\trevoked 2026-05-05T00:00:00Z by Ben", "1 key\n");
    }

    @Test
    void refusal_isTold_withTheServersWords() {
        status = 409;
        answer = "{\"detail\":\"gateway gw-1 has 10 keys\"}";
        assertThat(run("add", "gw-1")).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("409", "10 keys");
    }
}
