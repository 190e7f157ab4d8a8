package dev.rimecast.app.command;

import static org.assertj.core.api.Assertions.assertThat;

import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import picocli.CommandLine;

/** The command over real HTTP, against a server that answers as the API's description has it. */
class RejectsCommandTest {
    private static final String LIST = """
            [{"id":"3-118","at":"2026-05-04T00:00:40Z","sender":"gw-1","topic":"fleet/gw-1/senml",
              "reasons":[{"index":0,"reason":"unknown-channel","detail":"mood"}],
              "payload":"[]","isText":true,"payloadBytes":2,"replays":[]},
             {"id":"0-7","at":"2026-05-03T00:00:40Z","sender":"gw-2","topic":"fleet/gw-2/senml",
              "reasons":[{"index":2,"reason":"machine-of-other-gateway","detail":"ice-2"}],
              "payload":"[]","isText":true,"payloadBytes":2,
              "replays":[{"at":"2026-05-04T00:01:00Z","by":"Ada","stored":1,"unclaimed":0,"rejected":[]}]}]""";

    private final List<String> asked = new CopyOnWriteArrayList<>();
    private final Map<String, String> answers = new ConcurrentHashMap<>();
    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();
    private HttpServer server;

    @BeforeEach
    void start() throws IOException {
        server = HttpServer.create(new InetSocketAddress("127.0.0.1", 0), 0);
        server.createContext("/", exchange -> {
            String request = exchange.getRequestMethod() + ' ' + exchange.getRequestURI();
            asked.add(request);
            String answer = answers.getOrDefault(request, "404 {\"detail\":\"No such message.\"}");
            byte[] bytes = answer.substring(4).getBytes(StandardCharsets.UTF_8);
            exchange.sendResponseHeaders(Integer.parseInt(answer.substring(0, 3)), bytes.length);
            exchange.getResponseBody().write(bytes);
            exchange.close();
        });
        server.start();
        answers.put("GET /api/v1/system/rejects?limit=20", "200 " + LIST);
    }

    @AfterEach
    void stop() {
        server.stop(0);
    }

    private int run(String... arguments) {
        CommandLine line = new CommandLine(new RejectsCommand(new ServerOptions(Map.of("RIMECAST_TOKEN", "secret"))))
                .setOut(new PrintWriter(out))
                .setErr(new PrintWriter(err))
                .setExecutionExceptionHandler(new Failures());
        String[] all = new String[2 + arguments.length];
        all[0] = "--server";
        all[1] = "http://127.0.0.1:" + server.getAddress().getPort();
        System.arraycopy(arguments, 0, all, 2, arguments.length);
        return line.execute(all);
    }

    @Test
    void rejects_listed_sayWhyAndWhatCameOfIt() {
        assertThat(run()).isEqualTo(ExitCode.OK);

        assertThat(out.toString())
                .contains("3-118\t2026-05-04T00:00:40Z\tgw-1\tfleet/gw-1/senml\trecord 0 unknown-channel (mood)")
                .contains(
                        "taken again by Ada at 2026-05-04T00:01:00Z: 1 readings stored, 0 unclaimed, 0 rejected again")
                .contains("2 messages");
    }

    @Test
    void replayAll_takesOnlyWhatHasSomethingLeft() {
        answers.put(
                "POST /api/v1/system/rejects/3-118/replay",
                "200 {\"at\":\"2026-05-04T00:02:00Z\",\"by\":\"Ada\",\"stored\":1,\"unclaimed\":0,\"rejected\":[]}");

        assertThat(run("--replay-all")).isEqualTo(ExitCode.OK);

        assertThat(asked)
                .containsExactly("GET /api/v1/system/rejects?limit=20", "POST /api/v1/system/rejects/3-118/replay");
        assertThat(out.toString()).contains("3-118\t1 readings stored, 0 unclaimed, 0 rejected again");
    }

    @Test
    void replay_rejectedAgainOrNothingLeft_isSaidAndEndsWithAnError() {
        answers.put(
                "POST /api/v1/system/rejects/3-118/replay",
                "200 {\"at\":\"2026-05-04T00:02:00Z\",\"by\":\"Ada\",\"stored\":0,\"unclaimed\":0,"
                        + "\"rejected\":[{\"index\":0,\"reason\":\"unknown-channel\",\"detail\":\"mood\"}]}");
        answers.put("POST /api/v1/system/rejects/0-7/replay", "409 {\"detail\":\"Everything was taken by Ada.\"}");

        assertThat(run("--replay", "3-118,0-7")).isEqualTo(ExitCode.WRONG_INPUT);

        assertThat(out.toString())
                .contains("1 rejected again: record 0 unknown-channel (mood)")
                .contains("0-7\tnot taken: Everything was taken by Ada.");
    }

    @Test
    void replay_notAllowed_saysWhy() {
        answers.put(
                "POST /api/v1/system/rejects/3-118/replay",
                "403 {\"detail\":\"Your role does not allow this: replay-rejects.\"}");

        assertThat(run("--replay", "3-118")).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(err.toString()).contains("403").contains("replay-rejects");
    }
}
