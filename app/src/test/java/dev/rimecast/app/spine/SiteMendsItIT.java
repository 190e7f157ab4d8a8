package dev.rimecast.app.spine;

import static dev.rimecast.app.spine.RepairStory.LIMIT;
import static dev.rimecast.app.spine.RepairStory.MACHINE;
import static dev.rimecast.app.spine.RepairStory.WARNED;
import static dev.rimecast.app.spine.RepairStory.WORKED;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * The promise of a site's link from end to end: a condenser gets dirty, the firm asks the site, somebody there washes the
 * filter and says so by the link alone, the next three cycles of the machine are good, the alert ends and the case closes
 * without a visit, and the page of the link has a receipt that says what it brought.
 */
class SiteMendsItIT {
    /** What else the site may be asked first, and sees. */
    private static final Map<String, String> SEEN = Map.of(
            "air-filter", "was-full",
            "things-around", "free",
            "air-blows", "weakly",
            "room-temperature", "usual");

    private static final int GOOD_CYCLES = 3;

    @TempDir
    Path directory;

    @Test
    void filterWashedBySite_threeGoodCycles_caseClosesWithoutAVisit() throws Exception {
        try (RepairStory story = new RepairStory(directory)) {
            Http manager = story.manager();
            story.live(WARNED);
            String caseId = warned(manager);
            String secret = JsonMapper.shared()
                    .readTree(manager.post("/api/v1/cases/" + caseId + "/site-links", "{}"))
                    .path("secret")
                    .asString();
            story.live(WORKED);
            assertThat(look(manager, secret).path("state").asString())
                    .as("it is still dirty")
                    .isEqualTo("asking");
            putRight(manager, secret);
            Instant until = WORKED.plus(Duration.ofHours(4));
            story.live(until);
            await().atMost(LIMIT)
                    .until(() -> look(manager, secret).path("state").asString().equals("over"));

            receipt(manager, look(manager, secret).path("receipt"));
            JsonNode link = JsonMapper.shared()
                    .readTree(manager.get("/api/v1/site-links"))
                    .path(0);
            assertThat(link.path("state").asString()).isEqualTo("over");
            receipt(manager, link.path("receipt"));
            closed(manager, caseId);
            withoutAVisit(manager);
        }
    }

    private static String warned(Http manager) {
        await().atMost(LIMIT).until(() -> alert(manager).isPresent());
        return alert(manager).orElseThrow().path("caseId").asString();
    }

    private static Optional<JsonNode> alert(Http manager) {
        return JsonMapper.shared()
                .readTree(manager.get("/api/v1/alerts?open=false"))
                .valueStream()
                .filter(each -> each.path("condition").asString().equals("rising-condensing-temperature"))
                .findFirst();
    }

    /** Without an account: the link is all that the site has. */
    private static JsonNode look(Http who, String secret) {
        HttpResponse<String> answer =
                who.triesWith(Optional.empty(), "/api/v1/site-check", "{\"link\":\"" + secret + "\"}");
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
        return JsonMapper.shared().readTree(answer.body());
    }

    private static void putRight(Http manager, String secret) {
        String asked = "";
        while (!asked.equals("air-filter")) {
            asked = look(manager, secret).path("check").path("id").asString();
            assertThat(SEEN).as("a question that the story can answer").containsKey(asked);
            HttpResponse<String> answer = manager.triesWith(
                    Optional.empty(),
                    "/api/v1/site-check/answers",
                    "{\"link\":\"" + secret + "\",\"check\":\"" + asked + "\",\"answer\":\""
                            + Objects.requireNonNull(SEEN.get(asked)) + "\"}");
            assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
        }
    }

    private static void receipt(Http manager, JsonNode receipt) {
        assertThat(receipt.path("by").path("check").asString()).isEqualTo("air-filter");
        assertThat(receipt.path("by").path("putsRight").asBoolean()).isTrue();
        assertThat(receipt.path("visited").asBoolean()).isFalse();
        assertThat(receipt.path("cycles").asInt()).isGreaterThanOrEqualTo(GOOD_CYCLES);
        Instant over = Instant.parse(receipt.path("overAt").asString());
        assertThat(cycles(manager, over)).as("whole cycles until it was over").isEqualTo(GOOD_CYCLES);
    }

    /** Begun since it was put right, and done by then. */
    private static long cycles(Http manager, Instant until) {
        return JsonMapper.shared()
                .readTree(manager.get("/api/v1/machines/" + MACHINE + "/cycles?from=" + WORKED + "&to=" + until))
                .valueStream()
                .filter(cycle -> cycle.path("complete").asBoolean()
                        && !Instant.parse(cycle.path("end").asString()).isAfter(until))
                .count();
    }

    private static void closed(Http manager, String caseId) {
        JsonNode alert = JsonMapper.shared()
                .readTree(manager.get("/api/v1/alerts/"
                        + alert(manager).orElseThrow().path("id").asString()));
        assertThat(alert.path("alert").path("clearedAt").isMissingNode()).isFalse();
        assertThat(alert.path("alert").path("summary").asString()).startsWith("Put right on site: ");
        await().atMost(LIMIT)
                .until(() -> JsonMapper.shared()
                        .readTree(manager.get("/api/v1/cases/" + caseId))
                        .has("closedAt"));
    }

    /** What was proposed for it is taken back, and nobody was there. */
    private static void withoutAVisit(Http manager) {
        manager.post("/api/v1/visits/plan", "{}");
        JsonNode all = JsonMapper.shared()
                .readTree(manager.get("/api/v1/visits?state=proposed,accepted,done,cancelled"))
                .path("visits");
        assertThat(all.valueStream()
                        .filter(visit -> visit.path("needs").toString().contains(MACHINE))
                        .map(visit -> visit.path("state").asString()))
                .isSubsetOf(List.of("cancelled"));
        assertThat(manager.get("/api/v1/machines/" + MACHINE + "/events"))
                .contains("site-answer")
                .doesNotContain("\"visit\"");
    }
}
