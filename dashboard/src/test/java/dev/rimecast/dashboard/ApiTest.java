package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeFleet;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tools.jackson.databind.JsonNode;

class ApiTest {
    private static FakeServer server;
    private static Web web;

    @BeforeAll
    static void start() {
        server = FakeServer.start(FakeFleets::small);
        web = new Web(server);
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    @Test
    void fleet_asked_isOrderedByTimeLeftWithQuietLast() {
        JsonNode machines = web.json("/api/v1/fleet").path("machines");

        assertThat(machines).hasSize(24);
        assertThat(machines.get(0).path("machine").stringValue()).isEqualTo("ice-0014");
        assertThat(machines.get(23).has("leading")).isFalse();
    }

    @Test
    void fleet_askedAgainWithItsTag_isNotModified() {
        HttpResponse<String> first = web.get("/api/v1/sites");
        String tag = first.headers().firstValue("ETag").orElseThrow();

        HttpResponse<String> second = web.get("/api/v1/sites", "If-None-Match", tag);

        assertThat(second.statusCode()).isEqualTo(304);
        assertThat(second.body()).isEmpty();
        assertThat(second.headers().firstValue("Rimecast-Time")).isPresent();
    }

    @Test
    void temperatures_severalDays_takesABucketThatFitsAScreen() {
        JsonNode answer =
                web.json("/api/v1/machines/ice-0003/temperatures?from=2026-05-01T00:00:00Z&to=2026-05-15T00:00:00Z");

        assertThat(answer.path("bucketSeconds").asInt()).isEqualTo(1_500);
        assertThat(answer.path("start").size()).isBetween(500, 1_000);
        assertThat(answer.path("waterMean").get(0).isNull()).isTrue();
    }

    @ParameterizedTest
    @CsvSource({
        "/api/v1/machines/ice-9999, 404, not-found",
        "/api/v1/machines/NO, 404, not-found",
        "/api/v1/alerts/nonsense, 404, not-found",
        "/api/v1/nothing, 404, not-found",
        "/api/v1/alerts?limit=0, 400, bad-parameter",
        "/api/v1/alerts?open=perhaps, 400, bad-parameter",
        "/api/v1/alerts?condition=too-hot, 400, bad-parameter",
        "/api/v1/alerts?after=here, 400, bad-parameter",
        "/api/v1/cases?after=open_yesterday_1, 400, bad-parameter",
        "/api/v1/cases?after=over_+300000-01-01T00:00:00Z_00000000-0000-0000-0000-000000000001, 400, bad-parameter",
        "/api/v1/figures?to=+300000-01-01T00:00:00Z, 400, bad-parameter",
        "/api/v1/notices?after=7, 400, bad-parameter",
        "/api/v1/machines/ice-0003/cycles?from=yesterday, 400, bad-parameter",
        "/api/v1/machines/ice-0003/temperatures?bucket=PT7M, 400, bad-parameter",
        "/api/v1/machines/ice-0003/cycles?from=2026-05-02T00:00:00Z&to=2026-05-01T00:00:00Z, 400, bad-parameter",
        "/api/v1/events?kinds=gossip, 400, bad-parameter",
    })
    void get_withAMistake_answersAProblem(String path, int status, String type) {
        HttpResponse<String> answer = web.get(path);

        assertThat(answer.statusCode()).isEqualTo(status);
        assertThat(answer.headers().firstValue("Content-Type")).hasValue("application/problem+json");
        assertThat(Web.parse(answer).path("type").stringValue()).isEqualTo("urn:rimecast:problem:" + type);
    }

    @ParameterizedTest
    @CsvSource({"/api/v1/alerts?open=false", "/api/v1/cases?open=false", "/api/v1/notices?"})
    void list_followedByItsLinks_isTheWholeListOnce(String path) {
        List<String> all = ids(web.get(path));
        List<String> followed = new ArrayList<>();
        Optional<String> next = Optional.of(path + "&limit=2");
        int pages = 0;
        while (next.isPresent()) {
            HttpResponse<String> page = web.get(next.get());
            assertThat(ids(page)).hasSizeBetween(1, 2);
            followed.addAll(ids(page));
            next = page.headers()
                    .firstValue("Link")
                    .map(link -> link.substring(1, link.indexOf('>')))
                    .filter(address -> address.contains("limit=2"));
            pages++;
        }

        assertThat(followed).isEqualTo(all);
        assertThat(pages).isEqualTo((all.size() + 1) / 2).isGreaterThan(1);
    }

    private static List<String> ids(HttpResponse<String> answer) {
        assertThat(answer.statusCode()).isEqualTo(200);
        return Web.parse(answer)
                .valueStream()
                .map(entry -> entry.path("id").stringValue())
                .toList();
    }

    @Test
    void alerts_ofAConditionAndASite_areThoseOnly() {
        JsonNode some = web.json("/api/v1/alerts").get(0);
        String condition = some.path("condition").stringValue();
        String site = some.path("site").stringValue();

        JsonNode answer = web.json("/api/v1/alerts?site=" + site + "&condition=" + condition);

        assertThat(answer.valueStream())
                .isNotEmpty()
                .allMatch(alert -> alert.path("condition").stringValue().equals(condition)
                        && alert.path("site").stringValue().equals(site));
        assertThat(web.json("/api/v1/alerts?priority=low,medium").valueStream())
                .allMatch(alert ->
                        List.of("low", "medium").contains(alert.path("priority").stringValue()))
                .hasSizeLessThan(web.json("/api/v1/alerts").size());
    }

    @Test
    void acknowledge_withTheVersionSeen_isDoneAndShown() {
        AlertView alert = server.fleet().leading("ice-0011");

        HttpResponse<String> answer = acknowledge(alert, alert.version(), "Kim");

        assertThat(answer.statusCode()).isEqualTo(200);
        assertThat(Web.parse(answer).path("alert").path("state").stringValue()).isEqualTo("acknowledged");
        assertThat(web.get("/api/v1/fleet").body()).contains("\"hasIt\":\"Kim\"");
    }

    @Test
    void acknowledge_afterSomebodyElse_tellsWhoWasFaster() {
        AlertView alert = server.fleet().leading("ice-0007");
        acknowledge(alert, alert.version(), "Ana");

        HttpResponse<String> answer = acknowledge(alert, alert.version(), "Ben");

        assertThat(answer.statusCode()).isEqualTo(409);
        assertThat(Web.parse(answer).path("current").path("acknowledgedBy").stringValue())
                .isEqualTo("Ana");
    }

    @Test
    void assign_toOneWhoCouldHaveIt_isDoneShownAndInTheHistory() {
        AlertView alert = server.fleet().leading("ice-0014");
        String path = "/api/v1/alerts/" + alert.finding().id();
        assertThat(web.json(path + "/assignees").toString()).contains("\"" + FakeServer.OPERATOR + "\"");

        HttpResponse<String> answer = web.post(
                path + "/assign",
                "{\"version\":%d,\"to\":\"%s\",\"note\":\"on Friday\"}"
                        .formatted(alert.version(), FakeServer.OPERATOR));

        assertThat(answer.statusCode()).isEqualTo(200);
        JsonNode given = Web.parse(answer);
        assertThat(given.path("assignee").stringValue()).isEqualTo(FakeServer.OPERATOR);
        assertThat(given.path("alert").path("hasIt").stringValue()).isEqualTo(FakeServer.OPERATOR);
        assertThat(given.path("history").get(given.path("history").size() - 1).toString())
                .contains("assigned", "to " + FakeServer.OPERATOR + ": on Friday");
        assertThat(web.post(path + "/assign", "{\"version\":%d}".formatted(alert.version()))
                        .statusCode())
                .as("somebody was faster")
                .isEqualTo(409);
        HttpResponse<String> taken = web.post(path + "/assign", "{\"version\":%d}".formatted(alert.version() + 1));
        assertThat(Web.parse(taken).has("assignee")).isFalse();
    }

    @Test
    void assign_toOneWhoCouldNot_isRefused() {
        server.account("only looks", Role.VIEWER, SiteScope.EVERY);
        server.account("elsewhere", Role.OPERATOR, SiteScope.of(Set.of("site-99")));
        AlertView alert = server.fleet().leading("ice-0014");

        for (String name : List.of("only looks", "elsewhere", "nobody known")) {
            HttpResponse<String> answer = web.post(
                    "/api/v1/alerts/" + alert.finding().id() + "/assign",
                    "{\"version\":%d,\"to\":\"%s\"}".formatted(alert.version(), name));
            assertThat(answer.statusCode()).as(name).isEqualTo(400);
        }
    }

    @Test
    void note_ofAnAlert_standsInItsHistoryAndChangesNothingElse() {
        AlertView alert = server.fleet().leading("ice-0014");
        String path = "/api/v1/alerts/" + alert.finding().id();

        HttpResponse<String> answer = web.post(path + "/notes", "{\"text\":\"Key is at the bar.\"}");

        assertThat(answer.statusCode()).isEqualTo(200);
        JsonNode noted = Web.parse(answer);
        assertThat(noted.path("history").get(noted.path("history").size() - 1).toString())
                .contains("noted", "Key is at the bar.", "administrator");
        assertThat(noted.path("alert").path("version").asLong()).isEqualTo(alert.version());
        assertThat(web.post(path + "/notes", "{\"text\":\" \"}").statusCode()).isEqualTo(400);
    }

    @Test
    void acknowledge_unknownAlert_isNotFound() {
        HttpResponse<String> answer =
                web.post("/api/v1/alerts/" + FakeFleet.unknownAlert() + "/acknowledge", "{\"version\":1}");

        assertThat(answer.statusCode()).isEqualTo(404);
    }

    @ParameterizedTest
    @CsvSource(
            value = {
                "{'note':'no version'}",
                "{'version':'1'}",
                "not json",
                "{'version':1,'note':7}",
                "{'version':1,'note':'a\\u0000b'}"
            },
            delimiter = ';')
    void acknowledge_withABadBody_namesWhatIsWrong(String body) {
        AlertView alert = server.fleet().leading("ice-0022");

        HttpResponse<String> answer =
                web.post("/api/v1/alerts/" + alert.finding().id() + "/acknowledge", body.replace('\'', '"'));

        assertThat(answer.statusCode()).isEqualTo(400);
        assertThat(Web.parse(answer).path("type").stringValue()).endsWith("bad-body");
        assertThat(server.fleet().leading("ice-0022").version()).isEqualTo(alert.version());
    }

    @Test
    void shelve_withReasonAndEnd_pausesUntilItIsEnded() {
        AlertView alert = server.fleet().leading("ice-0007");
        String path = "/api/v1/alerts/" + alert.finding().id();

        HttpResponse<String> answer = web.post(
                path + "/shelve",
                "{\"version\":" + alert.version() + ",\"reason\":\"part ordered\",\"until\":\"2099-01-01T00:00:00Z\"}");

        JsonNode hold = Web.parse(answer).path("alert").path("hold");
        assertThat(Web.parse(answer).path("alert").path("state").stringValue()).isEqualTo("shelved");
        assertThat(hold.path("until").stringValue()).isEqualTo("2099-01-01T00:00:00Z");
        assertThat(web.post("/api/v1/holds/" + hold.path("id").stringValue() + "/end", "{\"reason\":\"it came\"}")
                        .statusCode())
                .isEqualTo(200);
        assertThat(web.json(path).path("alert").path("state").stringValue()).isEqualTo("unacknowledged");
    }

    @Test
    void alert_putIntoAnotherCaseAndTakenOut_isWhereSomebodyPutItAndSaysWho() {
        AlertView alert = server.fleet().leading("ice-0018");
        String path = "/api/v1/alerts/" + alert.finding().id();
        String target =
                server.fleet().leading("ice-0022").caseId().orElseThrow().toString();
        String before = alert.caseId().orElseThrow().toString();

        JsonNode joined = Web.parse(web.post(
                path + "/join",
                "{\"version\":%d,\"case\":\"%s\",\"reason\":\"one blocked main\"}".formatted(alert.version(), target)));

        assertThat(joined.path("alert").path("caseId").stringValue()).isEqualTo(target);
        assertThat(joined.path("history").get(joined.path("history").size() - 1).toString())
                .contains("one blocked main", "administrator");
        assertThat(web.json("/api/v1/cases/" + target).path("alerts").toString())
                .contains("ice-0018", "ice-0022");
        assertThat(web.json("/api/v1/cases/" + before).path("alerts").toString())
                .doesNotContain(alert.finding().id().toString());
        assertThat(web.post(path + "/part", "{\"version\":%d,\"reason\":\"late\"}".formatted(alert.version()))
                        .statusCode())
                .as("somebody was faster")
                .isEqualTo(409);

        JsonNode parted = Web.parse(web.post(
                path + "/part",
                "{\"version\":%d,\"reason\":\"scale, after all\"}"
                        .formatted(joined.path("alert").path("version").asLong())));
        assertThat(parted.path("alert").path("caseId").stringValue()).isNotIn(before, target);
        assertThat(web.json("/api/v1/cases/"
                                + parted.path("alert").path("caseId").stringValue())
                        .path("alerts"))
                .hasSize(1);
    }

    @ParameterizedTest
    @CsvSource(
            value = {
                "join; {'version':1,'reason':'r'}",
                "join; {'version':1,'case':'no id','reason':'r'}",
                "part; {'version':1}",
                "shelve; {'version':1,'reason':'r'}",
                "shelve; {'version':1,'until':'2099-01-01T00:00:00Z'}",
                "shelve; {'version':1,'reason':'r','until':'Thursday'}",
                "out-of-service; {'version':1,'reason':'r'}",
                "out-of-service; {'version':1,'permittedBy':'p'}"
            },
            delimiter = ';')
    void action_withAPartMissing_namesWhatIsWrong(String action, String body) {
        AlertView alert = server.fleet().leading("ice-0014");

        HttpResponse<String> answer =
                web.post("/api/v1/alerts/" + alert.finding().id() + '/' + action, body.replace('\'', '"'));

        assertThat(answer.statusCode()).isEqualTo(400);
        assertThat(server.fleet().leading("ice-0014").version()).isEqualTo(alert.version());
    }

    @Test
    void holds_unknownOne_isNotFound() {
        assertThat(web.post("/api/v1/holds/" + FakeFleet.unknownAlert() + "/end", "{\"reason\":\"r\"}")
                        .statusCode())
                .isEqualTo(404);
        assertThat(web.post("/api/v1/machines/ice-9999/out-of-service", "{\"reason\":\"r\",\"permittedBy\":\"p\"}")
                        .statusCode())
                .isEqualTo(404);
    }

    @Test
    void ice_ofAnAlert_comesAsACodeBesideTheSentence() {
        assertThat(web.json("/api/v1/alerts")).anySatisfy(alert -> {
            assertThat(alert.path("iceSays").stringValue("")).isEqualTo("short");
            assertThat(alert.path("ice").stringValue("")).contains("runs out of ice");
        });
        assertThat(web.json("/api/v1/alerts"))
                .allSatisfy(alert -> assertThat(alert.has("iceSays")).isEqualTo(alert.has("ice")));
    }

    @Test
    void metrics_afterRequests_countThemByRoute() {
        web.get("/api/v1/fleet");

        assertThat(web.get("/metrics").body())
                .contains("rimecast_dashboard_requests_seconds_count{method=\"GET\",route=\"fleet\",status=\"200\"}");
    }

    private static HttpResponse<String> acknowledge(AlertView alert, long version, String by) {
        return web.as(by)
                .post(
                        "/api/v1/alerts/" + alert.finding().id() + "/acknowledge",
                        "{\"version\":" + version + ",\"note\":\"on my way\"}");
    }
}
