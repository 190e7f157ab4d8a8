package dev.rimecast.app.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.app.spine.Http;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.TempDir;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * The manager's morning in the demonstration as the command starts it: with its own fleet, account, routes and clock. Two
 * days of its past are enough for what needs no history; that the rest comes is tested where detection is.
 */
@EnabledIfSystemProperty(
        named = "faults",
        matches = "long",
        disabledReason = "lives through two days of a fleet: mvn -Pfaults,faults-long verify")
class DemoMorningIT {
    private static final int DAYS = 2;
    private static final Duration LIMIT = Duration.ofMinutes(5);
    private static final ServerSettings.Address FREE = new ServerSettings.Address("127.0.0.1", 0);
    private static final JsonMapper JSON = JsonMapper.builder().build();

    @TempDir
    Path data;

    @Test
    void morning_digestCaseAdviceQuestionAndDecision() throws IOException {
        try (Demo demo = Demo.start(data, FREE, FREE, DAYS, new PrintWriter(Writer.nullWriter()), failure -> {})) {
            Http manager = Http.enterDemo(demo.httpPort(), "Demo manager");
            CompletableFuture<Void> life = CompletableFuture.runAsync(() -> live(demo));
            JsonNode asking = await().atMost(LIMIT)
                    .pollInterval(Duration.ofSeconds(1))
                    .ignoreException(UncheckedIOException.class) // an answer may take long while the past goes by
                    .failFast(() -> assertThat(life).isNotDone())
                    .until(() -> asking(manager), Optional::isPresent)
                    .orElseThrow();
            String machine = asking.path("alert").path("machine").asString();

            JsonNode digest = digestOf(manager, machine);
            assertThat(digest.path("receiver").asString()).isEqualTo("service-manager");
            assertThat(digest.path("state").asString()).isEqualTo("sent");
            JsonNode opened = get(
                    manager,
                    "/api/v1/cases/" + asking.path("alert").path("caseId").asString());
            assertThat(opened.path("alerts").toString()).contains(machine);
            JsonNode advice = asking.path("advice");
            for (String part :
                    new String[] {"siteChecks", "engineerChecks", "parts", "skills", "cautions", "deferTo"}) {
                assertThat(advice.path(part)).as(part).isNotEmpty();
            }
            theQuestionIsAnswered(manager, asking, machine);
            itIsSeen(manager, asking);
        }
    }

    private static void live(Demo demo) {
        try {
            demo.run();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static JsonNode get(Http manager, String path) {
        return JSON.readTree(manager.get(path));
    }

    /** An alert that nobody has seen, that asks a question, and that the digest of the morning names. */
    private static Optional<JsonNode> asking(Http manager) {
        return get(manager, "/api/v1/alerts?open=true")
                .valueStream()
                .filter(alert -> alert.path("state").asString().equals("unacknowledged"))
                .map(alert -> get(manager, "/api/v1/alerts/" + alert.path("id").asString()))
                .filter(alert -> alert.path("question").path("question").isString())
                .filter(alert -> !digestOf(
                                manager, alert.path("alert").path("machine").asString())
                        .isMissingNode())
                .findFirst();
    }

    private static JsonNode digestOf(Http manager, String machine) {
        return get(manager, "/api/v1/notices?limit=200")
                .valueStream()
                .filter(notice -> notice.path("kind").asString().equals("digest"))
                .map(notice ->
                        get(manager, "/api/v1/notices/" + notice.path("id").asString()))
                .filter(notice -> notice.path("text").asString().contains(machine))
                .findFirst()
                .orElseGet(() -> JSON.missingNode());
    }

    private static void theQuestionIsAnswered(Http manager, JsonNode alert, String machine) {
        JsonNode question = alert.path("question");
        assertThat(question.path("answers").size()).isGreaterThan(2);
        String said = question.path("answers").path(0).path("answer").asString();
        String answer = "{\"question\":\"" + question.path("question").asString() + "\",\"answer\":\"" + said + "\"}";
        String id = alert.path("alert").path("id").asString();
        manager.post("/api/v1/alerts/" + id + "/answers", answer);

        await().atMost(LIMIT)
                .untilAsserted(() -> assertThat(get(manager, "/api/v1/alerts/" + id)
                                .path("answers")
                                .toString())
                        .as("analytics has weighed it at %s", machine)
                        .contains(said));
    }

    private static void itIsSeen(Http manager, JsonNode asking) {
        String id = asking.path("alert").path("id").asString();
        long version = get(manager, "/api/v1/alerts/" + id)
                .path("alert")
                .path("version")
                .asLong();
        JsonNode seen = JSON.readTree(manager.post(
                "/api/v1/alerts/" + id + "/acknowledge", "{\"version\":" + version + ",\"note\":\"Goes on Friday.\"}"));
        assertThat(seen.path("alert").path("state").asString()).isEqualTo("acknowledged");
        assertThat(seen.path("acknowledgedBy").asString()).isEqualTo("Demo manager");
    }
}
