package dev.rimecast.app.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.Map;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** The command over real HTTP, against a server that answers as the API's description has it. */
class DeadLettersCommandTest {
    private static final String OPEN = "6f9c8a3e-5d0b-3c86-9f0a-2f1d7c4b6a55";
    private static final String MINUTE = "0b1c2d3e-5d0b-3c86-9f0a-2f1d7c4b6a55";
    private static final String TAKEN = "11111111-5d0b-3c86-9f0a-2f1d7c4b6a55";

    private static final String LIST = """
            [{"id":"%s","at":"2026-05-04T00:00:40Z","stage":"alerts","topic":"findings","partition":3,"offset":118,
              "key":"harbour","why":"MalformedRecordException: no member machine","content":"","payload":"{}","isText":true,
              "payloadBytes":2,"open":true,
              "retakes":[{"at":"2026-05-04T00:01:00Z","by":"Ada","failedAgain":"no member machine"}]},
             {"id":"%s","at":"2026-05-04T00:00:30Z","stage":"analytics","topic":"sites","partition":0,"offset":40,
              "key":"","why":"half way","content":"minute 2026-05-04T00:00:00Z","payload":"01 ff","isText":false,
              "payloadBytes":2,"obstacle":"A minute can't pass again.","open":true,"retakes":[]},
             {"id":"%s","at":"2026-05-04T00:00:20Z","stage":"analytics","topic":"sites","partition":0,"offset":39,
              "key":"harbour","why":"half way","content":"pack of gateway gw-1","payload":"02","isText":false,
              "payloadBytes":1,"open":false,"retakes":[{"at":"2026-05-04T00:01:00Z","by":"Ada"}]}]""".formatted(OPEN, MINUTE, TAKEN);

    private FakeApi api;

    @BeforeEach
    void start() throws IOException {
        api = new FakeApi();
        api.answers("GET /api/v1/system/dead-letters?limit=20", "200 " + LIST);
    }

    @AfterEach
    void stop() {
        api.close();
    }

    private int run(String... arguments) {
        return api.run(new DeadLettersCommand(new ServerOptions(Map.of("RIMECAST_TOKEN", "secret"))), arguments);
    }

    @Test
    void letters_listed_sayWhereWhyAndWhatCameOfThem() {
        assertThat(run("--payload")).isEqualTo(ExitCode.OK);

        assertThat(api.out())
                .contains(OPEN + "\t2026-05-04T00:00:40Z\talerts\tfindings-3@118\tharbour\t\tMalformedRecordException")
                .contains("taken again by Ada at 2026-05-04T00:01:00Z: failed again: no member machine")
                .contains("can't be taken again: A minute can't pass again.")
                .contains("taken again by Ada at 2026-05-04T00:01:00Z: its stage has it")
                .contains("\t01 ff")
                .contains("3 letters");
    }

    @Test
    void replayAll_takesOnlyWhatIsOpenAndCanBeTaken() {
        api.answers(
                "POST /api/v1/system/dead-letters/" + OPEN + "/replay",
                "200 {\"at\":\"2026-05-04T00:02:00Z\",\"by\":\"Ada\"}");

        assertThat(run("--replay-all")).isEqualTo(ExitCode.OK);

        assertThat(api.asked)
                .containsExactly(
                        "GET /api/v1/system/dead-letters?limit=20",
                        "POST /api/v1/system/dead-letters/" + OPEN + "/replay");
        assertThat(api.out()).contains(OPEN + "\tits stage has it").contains("1 letter looked at again");
    }

    @Test
    void replay_failedAgainOrRefused_isSaidAndEndsWithAnError() {
        api.answers(
                "POST /api/v1/system/dead-letters/" + OPEN + "/replay",
                "200 {\"at\":\"2026-05-04T00:02:00Z\",\"by\":\"Ada\",\"failedAgain\":\"half way\"}");
        api.answers(
                "POST /api/v1/system/dead-letters/" + MINUTE + "/replay",
                "409 {\"detail\":\"A minute can't pass again.\"}");

        assertThat(run("--replay", OPEN + "," + MINUTE)).isEqualTo(ExitCode.WRONG_INPUT);

        assertThat(api.out())
                .contains(OPEN + "\tfailed again: half way")
                .contains(MINUTE + "\tnot taken: A minute can't pass again.");
    }

    @Test
    void replay_ofWhatIsNoIdentifier_asksNobody() {
        assertThat(run("--replay", "3-118")).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(api.err()).contains("such as 6f9c8a3e");
        assertThat(api.asked).isEmpty();
    }
}
