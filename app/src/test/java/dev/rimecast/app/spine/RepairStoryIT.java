package dev.rimecast.app.spine;

import static dev.rimecast.app.spine.RepairStory.LIMIT;
import static dev.rimecast.app.spine.RepairStory.MACHINE;
import static dev.rimecast.app.spine.RepairStory.WARNED;
import static dev.rimecast.app.spine.RepairStory.WORKED;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.awaitility.Awaitility.await;

import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * One story from end to end on the real server, with a simulated machine that publishes over real MQTT: a condenser gets
 * dirty, the firm is warned, the site weighs a harvest by its link, a visit is planned and accepted, the engineer writes down
 * what was done, the visit is over, and the machine's own cycles say that the repair has held. {@link RepairStoryInBrowserIT} tells the same by its pages.
 */
class RepairStoryIT {
    private static final String REPORT = "0b9c3f1e-6f0c-4a55-9d5b-7a1d6c1f2e10";

    /** Ice of one harvest, in kg. */
    private static final String WEIGHED = "0.85";

    @TempDir
    Path directory;

    @Test
    void dirtyCondenser_warningVisitWorkAndProof() throws Exception {
        try (RepairStory story = new RepairStory(directory)) {
            Http manager = story.manager();
            Http engineer = story.engineer();

            story.live(WARNED);
            JsonNode alert = warned(manager);
            weighedByTheSite(story, manager, alert.path("caseId").asString());
            String visit = visitAccepted(manager);
            story.live(WORKED.plus(RepairStory.STEP));
            written(engineer, visit, alert.path("caseId").asString());
            story.live(WORKED.plus(Duration.ofHours(24)));
            held(engineer);
            settled(manager, visit);
        }
    }

    private static JsonNode get(Http who, String path) {
        return JsonMapper.shared().readTree(who.get(path));
    }

    private static JsonNode warned(Http manager) {
        await().atMost(LIMIT).until(() -> !get(manager, "/api/v1/alerts").isEmpty());
        JsonNode summary = get(manager, "/api/v1/alerts")
                .valueStream()
                .filter(each -> each.path("condition").asString().equals("rising-condensing-temperature"))
                .findFirst()
                .orElseThrow();
        JsonNode alert = get(manager, "/api/v1/alerts/" + summary.path("id").asString());
        assertThat(alert.path("diagnosis").path(0).path("cause").asString()).isEqualTo("airflow-restricted");
        assertThat(alert.path("advice").path("siteChecks")).isNotEmpty();
        assertThat(alert.path("advice").path("cautions")).isNotEmpty();
        assertThat(summary.path("stage").asString()).as("before it stops").isEqualTo("early");
        return summary;
    }

    /** By the link alone, without an account; then in the site's log, and beside the cycle that it belongs to. */
    private static void weighedByTheSite(RepairStory story, Http manager, String caseId) {
        String path = "/api/v1/site-check/weighed-harvests";
        String secret = JsonMapper.shared()
                .readTree(manager.post("/api/v1/cases/" + caseId + "/site-links", "{}"))
                .path("secret")
                .asString();
        HttpResponse<String> wrong = manager.triesWith(Optional.empty(), path, weight(secret, "0"));
        assertThat(wrong.statusCode()).as(wrong.body()).isEqualTo(400);
        HttpResponse<String> answer = manager.triesWith(Optional.empty(), path, weight(secret, WEIGHED));
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
        assertThat(JsonMapper.shared().readTree(answer.body()).path("machine").asString())
                .as("the page of the link goes on")
                .isEqualTo(MACHINE);

        await().atMost(LIMIT)
                .untilAsserted(() -> assertThat(story.log().stream()
                                .flatMap(record ->
                                        record instanceof Happened event && event.kind() == EventKind.HARVEST_WEIGHED
                                                ? Stream.of(event)
                                                : Stream.empty()))
                        .as("the site's log")
                        .singleElement()
                        .satisfies(event -> {
                            assertThat(event.machine()).contains(MACHINE);
                            assertThat(event.detail()).isEqualTo(WEIGHED);
                            assertThat(event.at()).isEqualTo(WARNED);
                        }));
        JsonNode weighed = get(manager, "/api/v1/machines/" + MACHINE + "/weighed-harvests");
        assertThat(weighed).hasSize(1);
        assertThat(weighed.path(0).path("kilograms").asDouble()).isEqualTo(Double.parseDouble(WEIGHED));
        JsonNode rate = weighed.path(0).path("rate");
        assertThat(rate.path("kgPerDay").asDouble())
                .as("the last cycle says how much that is in a day")
                .isCloseTo(
                        Double.parseDouble(WEIGHED)
                                * 86_400
                                / rate.path("cycleSeconds").asDouble(),
                        within(0.1));
        assertThat(rate.path("enough").asBoolean())
                .as("against what is allowed")
                .isEqualTo(rate.path("share").asDouble() >= 0.85);
        assertThat(get(manager, "/api/v1/machines/" + MACHINE + "/events").toString())
                .contains("harvest-weighed");
    }

    private static String weight(String secret, String kilograms) {
        return "{\"link\":\"" + secret + "\",\"kilograms\":\"" + kilograms + "\"}";
    }

    private static String visitAccepted(Http manager) {
        JsonNode planned = JsonMapper.shared().readTree(manager.post("/api/v1/visits/plan", "{}"));
        assertThat(planned.path("visits")).as(planned.toString()).hasSize(1);
        JsonNode visit = planned.path("visits").path(0);
        assertThat(visit.path("state").asString()).isEqualTo("proposed");
        assertThat(visit.path("needs").path(0).path("machines").path(0).asString())
                .isEqualTo(MACHINE);
        String id = visit.path("id").asString();
        manager.post(
                "/api/v1/visits/" + id + "/accept",
                "{\"sequence\":" + visit.path("sequence").asInt() + ",\"note\":\"Key at the bar.\"}");
        return id;
    }

    /** Sent twice, as a phone does that has lost the answer. */
    private static void written(Http engineer, String visit, String caseId) {
        String path = "/api/v1/machines/" + MACHINE + "/work-reports";
        String report = """
                {"id":"%s","time":"%s","found":"airflow-restricted","origin":"site",\
                "done":[{"what":"air-filter-washed"}],"charge":"chargeable","job":"J-12","by":"Pim","visit":"%s"%s}""".formatted(REPORT, WORKED, visit, caseId.isEmpty() ? "" : ",\"caseId\":\"" + caseId + '"');
        engineer.post(path, report);
        engineer.post(path, report);

        assertThat(get(engineer, path)).hasSize(1);
    }

    private static void held(Http engineer) {
        String path = "/api/v1/machines/" + MACHINE + "/proofs";
        await().atMost(LIMIT)
                .untilAsserted(() -> assertThat(get(engineer, path).toString()).contains("\"ten-cycles\""));
        assertThat(get(engineer, path)).as("one job, one proof").hasSize(1);
        JsonNode proof = get(engineer, path).path(0);
        assertThat(proof.path("workedAt").asString()).startsWith("2026-05-22T10:00:00");
        assertThat(proof.path("cause").asString()).isEqualTo("airflow-restricted");
        assertThat(proof.path("about").valueStream().map(JsonNode::asString)).contains("rising-condensing-temperature");
        assertThat(proof.path("verdict").asString()).isEqualTo("held");
        assertThat(proof.path("looks")
                        .valueStream()
                        .map(look -> look.path("verdict").asString()))
                .containsExactly("held-so-far", "held");
    }

    private static void settled(Http manager, String visit) {
        await().atMost(LIMIT)
                .until(() -> get(manager, "/api/v1/visits/" + visit)
                        .path("state")
                        .asString()
                        .equals("done"));
        await().atMost(LIMIT)
                .until(() -> get(manager, "/api/v1/alerts")
                        .valueStream()
                        .noneMatch(alert -> alert.path("condition").asString().equals("rising-condensing-temperature")
                                && !alert.has("clearedAt")));
        assertThat(manager.get("/api/v1/outcomes.csv")).contains(MACHINE + ",airflow-restricted");
    }
}
