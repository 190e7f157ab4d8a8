package dev.rimecast.app.spine;

import static dev.rimecast.app.spine.RepairStory.LIMIT;
import static dev.rimecast.app.spine.RepairStory.MACHINE;
import static dev.rimecast.app.spine.RepairStory.WARNED;
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
 * The promise of a site's link from end to end, on the real server with a simulated machine that publishes over real MQTT: a
 * condenser gets dirty, a visit is proposed, the firm asks the site, somebody there washes the filter and says so by the link
 * alone, the next three cycles of the machine are good, the alert ends, the case closes, the visit is taken back, and the page
 * of the link has a receipt that says what it brought.
 */
class SiteMendsItIT {
    /** A week of health is enough to know it by. */
    private static final Instant FROM = WARNED.minus(Duration.ofDays(13));

    /** Hours before the machine's protection would have stopped it; a stop waits for somebody who looks at it. */
    private static final Instant WASHED = WARNED.plus(Duration.ofHours(2));

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
        try (RepairStory story = new RepairStory(directory, FROM, WASHED)) {
            Http manager = story.manager();
            story.live(WARNED);
            String caseId = warned(manager);
            String visit = visitProposed(manager);
            String secret = JsonMapper.shared()
                    .readTree(manager.post("/api/v1/cases/" + caseId + "/site-links", "{}"))
                    .path("secret")
                    .asString();
            story.live(WASHED);
            assertThat(look(manager, secret).path("state").asString())
                    .as("it is still dirty")
                    .isEqualTo("asking");
            assertThat(closedAt(manager, caseId)).isEmpty();

            putRight(manager, secret);
            story.live(WASHED.plus(Duration.ofHours(4)));

            await().atMost(LIMIT).until(() -> closedAt(manager, caseId).isPresent());
            Instant over = overAfterThreeGoodCycles(manager);
            JsonNode atTheSite = look(manager, secret);
            assertThat(atTheSite.path("state").asString()).isEqualTo("over");
            receipt(atTheSite.path("receipt"), over);
            JsonNode atTheDesk = JsonMapper.shared()
                    .readTree(manager.get("/api/v1/site-links"))
                    .path(0);
            assertThat(atTheDesk.path("state").asString()).isEqualTo("over");
            receipt(atTheDesk.path("receipt"), over);
            withoutAVisit(manager, visit);
        }
    }

    private static String warned(Http manager) {
        await().atMost(LIMIT).until(() -> alert(manager).isPresent());
        JsonNode alert = alert(manager).orElseThrow();
        assertThat(alert.path("stage").asString()).as("before it stops").isEqualTo("early");
        return alert.path("caseId").asString();
    }

    private static Optional<JsonNode> alert(Http manager) {
        return JsonMapper.shared()
                .readTree(manager.get("/api/v1/alerts?open=false&machine=" + MACHINE))
                .valueStream()
                .filter(each -> each.path("condition").asString().equals("rising-condensing-temperature"))
                .findFirst();
    }

    private static Optional<Instant> closedAt(Http manager, String caseId) {
        JsonNode of = JsonMapper.shared().readTree(manager.get("/api/v1/cases/" + caseId));
        return of.has("closedAt")
                ? Optional.of(Instant.parse(of.path("closedAt").asString()))
                : Optional.empty();
    }

    private static String visitProposed(Http manager) {
        JsonNode planned = JsonMapper.shared()
                .readTree(manager.post("/api/v1/visits/plan", "{}"))
                .path("visits");
        assertThat(planned).as("somebody would drive").hasSize(1);
        assertThat(planned.path(0).path("state").asString()).isEqualTo("proposed");
        assertThat(planned.path(0).path("needs").toString()).contains(MACHINE);
        return planned.path(0).path("id").asString();
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

    /** Whole cycles that began since it was put right, until the alert was over. */
    private static Instant overAfterThreeGoodCycles(Http manager) {
        JsonNode alert = alert(manager).orElseThrow();
        assertThat(alert.path("state").asString())
                .as("who asked the site has seen it")
                .isEqualTo("normal");
        assertThat(alert.path("summary").asString()).startsWith("Put right on site: ");
        Instant over = Instant.parse(alert.path("clearedAt").asString());
        List<Instant> ends = JsonMapper.shared()
                .readTree(manager.get(
                        "/api/v1/machines/" + MACHINE + "/cycles?from=" + WASHED + "&to=" + over.plusSeconds(1)))
                .valueStream()
                .filter(cycle -> cycle.path("complete").asBoolean()
                        && !Instant.parse(cycle.path("freezeStart").asString()).isBefore(WASHED))
                .map(cycle -> Instant.parse(cycle.path("end").asString()))
                .filter(end -> !end.isAfter(over))
                .toList();
        assertThat(ends).as("until it was over").hasSize(GOOD_CYCLES);
        return over;
    }

    private static void receipt(JsonNode receipt, Instant over) {
        assertThat(receipt.path("by").path("check").asString()).isEqualTo("air-filter");
        assertThat(receipt.path("by").path("putsRight").asBoolean()).isTrue();
        assertThat(receipt.path("visited").asBoolean()).isFalse();
        assertThat(receipt.path("cycles").asInt()).isGreaterThanOrEqualTo(GOOD_CYCLES);
        assertThat(Instant.parse(receipt.path("overAt").asString())).isEqualTo(over);
    }

    /** What was proposed for it is taken back, and nobody was there. */
    private static void withoutAVisit(Http manager, String proposed) {
        manager.post("/api/v1/visits/plan", "{}");
        assertThat(JsonMapper.shared()
                        .readTree(manager.get("/api/v1/visits?state=proposed,accepted,done"))
                        .path("visits")
                        .toString())
                .doesNotContain(proposed)
                .doesNotContain(MACHINE);
        assertThat(manager.get("/api/v1/machines/" + MACHINE + "/events"))
                .contains("\"event\":\"site-answer\"")
                .doesNotContain("\"event\":\"visit\"");
    }
}
