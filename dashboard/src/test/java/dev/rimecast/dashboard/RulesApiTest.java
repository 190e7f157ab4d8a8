package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.rules.Book;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** The rules over HTTP: two people at once, what is refused and how it is told. */
class RulesApiTest {
    private static final JsonMapper JSON = JsonMapper.builder().build();
    private static final String LIFE = Book.LIFE.standardText();

    private FakeServer server;
    private Web manager;

    @BeforeEach
    void start() {
        server = FakeServer.start(FakeFleets::small);
        manager = new Web(server, server.headers(server.account("Maren", Role.MANAGER, SiteScope.EVERY)));
    }

    @AfterEach
    void stop() {
        server.close();
    }

    @Test
    void save_withTheTagThatWasSeen_isTheNextVersionWithWhoAndWhy() {
        HttpResponse<String> seen = manager.get("/api/v1/rules/life");
        String tag = seen.headers().firstValue("ETag").orElseThrow();
        assertThat(tag).isEqualTo("\"0\"");

        HttpResponse<String> saved = save("life", tag, LIFE.replace("14d", "21d"), "July");

        assertThat(saved.statusCode()).isEqualTo(200);
        assertThat(saved.headers().firstValue("ETag")).hasValue("\"1\"");
        JsonNode version = manager.json("/api/v1/rules/life/versions").get(0);
        assertThat(version.path("savedBy").stringValue()).isEqualTo("Maren");
        assertThat(version.path("reason").stringValue()).isEqualTo("July");
        assertThat(manager.json("/api/v1/rules/life/versions/1").path("text").stringValue())
                .contains("21d");
        assertThat(manager.json("/api/v1/rules/life/versions/0").path("text").stringValue())
                .isEqualTo(LIFE);
    }

    @Test
    void save_byTwoAtOnce_theSecondIsToldByWhom() {
        save("life", "\"0\"", LIFE.replace("14d", "21d"), "first");
        Web ada = new Web(server);

        HttpResponse<String> second = save(ada, "life", "\"0\"", LIFE.replace("14d", "7d"), "second");

        assertThat(second.statusCode()).isEqualTo(412);
        assertThat(kind(second)).isEqualTo("rules-changed");
        assertThat(Web.parse(second).path("detail").stringValue()).contains("Maren", "Version 1");
        assertThat(Web.parse(second).path("current").path("version").asInt()).isEqualTo(1);
        assertThat(server.rules().versions(Book.LIFE)).hasSize(1);
    }

    @Test
    void save_withoutTagReasonOrText_isRefused() {
        String body = JSON.writeValueAsString(Map.of("text", LIFE + "#\n", "reason", "r"));
        assertThat(put(manager, "life", body).statusCode()).isEqualTo(428);
        assertThat(put(manager, "life", body, "If-Match", "W/\"0\"").statusCode())
                .isEqualTo(400);
        assertThat(put(manager, "life", body, "If-Match", "*").statusCode()).isEqualTo(400);
        assertThat(save("life", "\"0\"", LIFE + "#\n", "  ").statusCode()).isEqualTo(400);
        assertThat(put(manager, "life", "{\"reason\":\"r\"}", "If-Match", "\"0\"")
                        .statusCode())
                .isEqualTo(400);
        assertThat(save("life", "\"0\"", LIFE, "nothing changed").statusCode()).isEqualTo(409);
        assertThat(save("recipes", "\"0\"", LIFE, "no such book").statusCode()).isEqualTo(404);
        assertThat(save("life", "\"0\"", "#".repeat(6 * Book.LONGEST_TEXT + 20_000), "long")
                        .statusCode())
                .isEqualTo(413);
        assertThat(save("life", "\"0\"", LIFE + "#".repeat(Book.LONGEST_TEXT), "long")
                        .statusCode())
                .isEqualTo(422);
        assertThat(server.rules().versions(Book.LIFE)).isEmpty();
    }

    @Test
    void save_lineEndsOfAnotherSystem_areNoChange() {
        assertThat(save("life", "\"0\"", LIFE.replace("\n", "\r\n"), "r").statusCode())
                .isEqualTo(409);
    }

    @Test
    void save_withATagThatNeverWas_isToldWhatIsThere() {
        HttpResponse<String> refused = save("life", "\"7\"", LIFE + "#\n", "r");

        assertThat(refused.statusCode()).isEqualTo(412);
        assertThat(Web.parse(refused).path("detail").stringValue()).contains("No version was ever saved");
    }

    /** What is long is counted in characters, whatever the alphabet and however a client sends it. */
    @Test
    void save_longestTextWithEachCharacterEscaped_isTaken() {
        String filler = "\\u6c37".repeat(Book.LONGEST_TEXT - LIFE.length() - 1);
        String text = JSON.writeValueAsString(LIFE + '#').replaceFirst("\"$", "");

        HttpResponse<String> saved =
                put(manager, "life", "{\"text\":" + text + filler + "\",\"reason\":\"r\"}", "If-Match", "\"0\"");

        assertThat(saved.statusCode()).isEqualTo(200);
        assertThat(server.rules().current(Book.LIFE).text()).hasSize(Book.LONGEST_TEXT);
    }

    @Test
    void save_bookWithoutACaution_isRefusedWithLineAndPath() {
        String dull = Book.ADVICE.standardText().replace("cautions: [dust]", "cautions: [food]");

        HttpResponse<String> refused = save("advice", "\"0\"", dull, "shorter");

        assertThat(refused.statusCode()).isEqualTo(422);
        JsonNode first = Web.parse(refused).path("problems").get(0);
        assertThat(first.path("path").stringValue()).isEqualTo("causes.airflow-restricted.cautions");
        assertThat(dull.lines().toList().get(first.path("line").asInt() - 1)).contains("cautions: [food]");
        assertThat(first.path("what").stringValue()).contains("lacks dust", "put it back");
        assertThat(server.rules().versions(Book.ADVICE)).isEmpty();
    }

    @Test
    void advice_standardText_canBeSentBackWhole() {
        String own = Book.ADVICE.standardText() + "# ours\n";

        assertThat(save("advice", "\"0\"", own, "a note").statusCode()).isEqualTo(200);
        assertThat(manager.json("/api/v1/rules/advice").path("text").stringValue())
                .isEqualTo(own);
    }

    @Test
    void check_priority_tellsWhatWouldChangeAndSavesNothing() {
        String own = Book.PRIORITY.standardText()
                + "  - {words: All of it., when: {found: [low, medium, high]}, priority: urgent}\n";

        JsonNode check =
                Web.parse(manager.post("/api/v1/rules/priority/check", JSON.writeValueAsString(Map.of("text", own))));

        assertThat(check.path("problems").size()).isZero();
        assertThat(check.path("effect").path("judged").asInt()).isPositive();
        assertThat(check.path("effect").path("changes").size()).isPositive();
        assertThat(check.path("effect").path("changes").get(0).path("to").stringValue())
                .isEqualTo("urgent");
        assertThat(check.path("priority").path("rules").size()).isEqualTo(6);
        assertThat(server.rules().versions(Book.PRIORITY)).isEmpty();
    }

    @Test
    void rollBack_toAVersionAndToTheStandard_isANewVersion() {
        save("life", "\"0\"", LIFE.replace("14d", "21d"), "longer");
        save("life", "\"1\"", LIFE.replace("14d", "7d"), "shorter");

        JsonNode back = Web.parse(rollBack("\"2\"", 1));
        assertThat(back.path("state").path("version").asInt()).isEqualTo(3);
        assertThat(back.path("text").stringValue()).contains("21d");
        assertThat(rollBack("\"2\"", 0).statusCode()).isEqualTo(412);
        assertThat(rollBack("\"3\"", 8).statusCode()).isEqualTo(404);
        JsonNode standard = Web.parse(rollBack("\"3\"", 0));
        assertThat(standard.path("state").path("standard").booleanValue()).isTrue();
        assertThat(manager.json("/api/v1/rules/life/versions").size()).isEqualTo(4);
    }

    /** A role alone is not enough: what holds for every site is for those who see every site. */
    @Test
    void change_byAManagerOfOneSite_isRefusedAndReadingIsNot() {
        Web ofOneSite =
                new Web(server, server.headers(server.account("Olu", Role.MANAGER, SiteScope.of(List.of("site-1")))));

        assertThat(ofOneSite.get("/api/v1/rules/life").statusCode()).isEqualTo(200);
        HttpResponse<String> refused = save(ofOneSite, "life", "\"0\"", LIFE.replace("14d", "1d"), "mine");
        assertThat(refused.statusCode()).isEqualTo(403);
        assertThat(kind(refused)).isEqualTo("not-permitted");
        assertThat(Web.parse(refused).path("detail").stringValue()).contains("every site");
        assertThat(ofOneSite
                        .post("/api/v1/rules/priority/check", "{\"text\":\"\"}")
                        .statusCode())
                .isEqualTo(403);
    }

    private HttpResponse<String> rollBack(String tag, int to) {
        return manager.post("/api/v1/rules/life/roll-back", "{\"to\":" + to + ",\"reason\":\"r\"}", "If-Match", tag);
    }

    private HttpResponse<String> save(String book, String tag, String text, String reason) {
        return save(manager, book, tag, text, reason);
    }

    private static HttpResponse<String> save(Web who, String book, String tag, String text, String reason) {
        String body = JSON.writeValueAsString(Map.of("text", text, "reason", reason));
        return put(who, book, body, "If-Match", tag);
    }

    private static HttpResponse<String> put(Web who, String book, String body, String... headers) {
        return who.send(who.request("/api/v1/rules/" + book, headers)
                .header("Content-Type", "application/json")
                .PUT(BodyPublishers.ofString(body))
                .build());
    }

    private static String kind(HttpResponse<String> answer) {
        return Web.parse(answer).path("type").stringValue().replaceFirst(".*:", "");
    }
}
