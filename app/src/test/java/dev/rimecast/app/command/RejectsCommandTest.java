package dev.rimecast.app.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.Map;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

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

    private FakeApi api;

    @BeforeEach
    void start() throws IOException {
        api = new FakeApi();
        api.answers("GET /api/v1/system/rejects?limit=20", "200 " + LIST);
    }

    @AfterEach
    void stop() {
        api.close();
    }

    private int run(String... arguments) {
        return api.run(new RejectsCommand(new ServerOptions(Map.of("RIMECAST_TOKEN", "secret"))), arguments);
    }

    @Test
    void rejects_listed_sayWhyAndWhatCameOfIt() {
        assertThat(run()).isEqualTo(ExitCode.OK);

        assertThat(api.out())
                .contains("3-118\t2026-05-04T00:00:40Z\tgw-1\tfleet/gw-1/senml\trecord 0 unknown-channel (mood)")
                .contains(
                        "taken again by Ada at 2026-05-04T00:01:00Z: 1 readings stored, 0 unclaimed, 0 rejected again")
                .contains("2 messages");
    }

    @Test
    void replayAll_takesOnlyWhatHasSomethingLeft() {
        api.answers(
                "POST /api/v1/system/rejects/3-118/replay",
                "200 {\"at\":\"2026-05-04T00:02:00Z\",\"by\":\"Ada\",\"stored\":1,\"unclaimed\":0,\"rejected\":[]}");

        assertThat(run("--replay-all")).isEqualTo(ExitCode.OK);

        assertThat(api.asked)
                .containsExactly("GET /api/v1/system/rejects?limit=20", "POST /api/v1/system/rejects/3-118/replay");
        assertThat(api.out()).contains("3-118\t1 readings stored, 0 unclaimed, 0 rejected again");
    }

    @Test
    void replay_rejectedAgainOrNothingLeft_isSaidAndEndsWithAnError() {
        api.answers(
                "POST /api/v1/system/rejects/3-118/replay",
                "200 {\"at\":\"2026-05-04T00:02:00Z\",\"by\":\"Ada\",\"stored\":0,\"unclaimed\":0,"
                        + "\"rejected\":[{\"index\":0,\"reason\":\"unknown-channel\",\"detail\":\"mood\"}]}");
        api.answers("POST /api/v1/system/rejects/0-7/replay", "409 {\"detail\":\"Everything was taken by Ada.\"}");

        assertThat(run("--replay", "3-118,0-7")).isEqualTo(ExitCode.WRONG_INPUT);

        assertThat(api.out())
                .contains("1 rejected again: record 0 unknown-channel (mood)")
                .contains("0-7\tnot taken: Everything was taken by Ada.");
    }

    @Test
    void replay_notAllowed_saysWhy() {
        api.answers(
                "POST /api/v1/system/rejects/3-118/replay",
                "403 {\"detail\":\"Your role does not allow this: replay-rejects.\"}");

        assertThat(run("--replay", "3-118")).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(api.err()).contains("403").contains("replay-rejects");
    }
}
