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
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Real answers against the schemas of docs/openapi.yaml, and the examples in it against the same schemas. */
class OpenApiTest {
    private static FakeServer server;
    private static Web web;
    private static OpenApiDocument document;

    @BeforeAll
    static void start() {
        server = FakeServer.start(FakeFleets::small);
        web = new Web(server);
        document = OpenApiDocument.read();
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    @ParameterizedTest
    @CsvSource({
        "/api/v1/fleet, /api/v1/fleet, 200, application~1json",
        "/api/v1/sites, /api/v1/sites, 200, application~1json",
        "/api/v1/machines/ice-0003, /api/v1/machines/{machine}, 200, application~1json",
        "/api/v1/machines/ice-0003/temperatures, /api/v1/machines/{machine}/temperatures, 200, application~1json",
        "/api/v1/machines/ice-0003/cycles, /api/v1/machines/{machine}/cycles, 200, application~1json",
        "/api/v1/machines/ice-0003/events?limit=2, /api/v1/machines/{machine}/events, 200, application~1json",
        "/api/v1/machines/ice-0003/weighed-harvests, /api/v1/machines/{machine}/weighed-harvests, 200, application~1json",
        "/api/v1/machines/ice-0003/trace, /api/v1/machines/{machine}/trace, 200, application~1json",
        "/api/v1/machines/ice-0003/proofs, /api/v1/machines/{machine}/proofs, 200, application~1json",
        "/api/v1/machines/ice-0003/care, /api/v1/machines/{machine}/care, 200, application~1json",
        "/api/v1/figures, /api/v1/figures, 200, application~1json",
        "/api/v1/work-not-held, /api/v1/work-not-held, 200, application~1json",
        "/api/v1/machines/ice-0003/commissioning, /api/v1/machines/{machine}/commissioning, 200, application~1json",
        "/api/v1/machines/ice-0003/care-record, /api/v1/machines/{machine}/care-record, 200, application~1json",
        "/api/v1/sites/site-1/care-record, /api/v1/sites/{site}/care-record, 200, application~1json",
        "/api/v1/sites/site-1/events, /api/v1/sites/{site}/events, 200, application~1json",
        "/api/v1/alerts?open=false, /api/v1/alerts, 200, application~1json",
        "/api/v1/alerts?detail=true, /api/v1/alerts, 200, application~1json",
        "/api/v1/holds, /api/v1/holds, 200, application~1json",
        "/api/v1/cases?open=false, /api/v1/cases, 200, application~1json",
        "/api/v1/visits, /api/v1/visits, 200, application~1json",
        "'/api/v1/visits?state=done,cancelled', /api/v1/visits, 200, application~1json",
        "/api/v1/notices, /api/v1/notices, 200, application~1json",
        "/api/v1/receivers, /api/v1/receivers, 200, application~1json",
        "/api/v1/rules, /api/v1/rules, 200, application~1json",
        "/api/v1/rules/life/versions, /api/v1/rules/{book}/versions, 200, application~1json",
        "/api/v1/rules/advice/versions/0, /api/v1/rules/{book}/versions/{version}, 200, application~1json",
        "/api/v1/status, /api/v1/status, 200, application~1json",
        "/healthz, /healthz, 200, application~1json",
        "/livez, /livez, 200, application~1json",
        "/readyz, /readyz, 200, application~1json",
    })
    void answer_ofTheServer_fitsItsSchema(String path, String template, int status, String type) {
        HttpResponse<String> answer = web.get(path);

        assertThat(answer.statusCode()).isEqualTo(status);
        assertThat(document.errors(template, "get", String.valueOf(status), type, answer.body()))
                .isEmpty();
    }

    @Test
    void alert_withEveryPart_fitsItsSchema() {
        for (JsonNode alert : web.json("/api/v1/alerts?open=false")) {
            String body =
                    web.get("/api/v1/alerts/" + alert.path("id").stringValue()).body();
            assertThat(document.errors("/api/v1/alerts/{alert}", "get", "200", "application~1json", body))
                    .isEmpty();
            String why = web.get("/api/v1/alerts/" + alert.path("id").stringValue() + "/why")
                    .body();
            assertThat(document.errors("/api/v1/alerts/{alert}/why", "get", "200", "application~1json", why))
                    .isEmpty();
            String names = web.get("/api/v1/alerts/" + alert.path("id").stringValue() + "/assignees")
                    .body();
            assertThat(document.errors("/api/v1/alerts/{alert}/assignees", "get", "200", "application~1json", names))
                    .isEmpty();
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "/api/v1/system",
                "/api/v1/system/rejects",
                "/api/v1/system/dead-letters",
                "/api/v1/system/unclaimed",
                "/api/v1/claims"
            })
    void system_forWhoRunsIt_fitsItsSchema(String path) {
        Web administrator = new Web(server, server.headers(Role.ADMINISTRATOR));

        HttpResponse<String> answer = administrator.get(path);

        assertThat(answer.statusCode()).isEqualTo(200);
        assertThat(document.errors(path, "get", "200", "application~1json", answer.body()))
                .isEmpty();
    }

    @Test
    void system_forWhoSeesSomeSites_isRefused() {
        Web some = new Web(
                server, server.headers(server.account("one site", Role.ADMINISTRATOR, SiteScope.of(Set.of("site-1")))));

        assertThat(some.get("/api/v1/system/rejects").statusCode()).isEqualTo(403);
    }

    @Test
    void problemAndConflict_ofTheServer_fitTheirSchemas() {
        String missing = web.get("/api/v1/machines/ice-9999").body();
        assertThat(document.validate("/components/schemas/Problem", missing)).isEmpty();

        String id = server.fleet().leading("ice-0014").finding().id().toString();
        String conflict = web.post("/api/v1/alerts/" + id + "/acknowledge", "{\"version\":99}")
                .body();
        assertThat(document.at("/paths/~1api~1v1~1alerts~1{alert}~1acknowledge/post/responses/409/$ref")
                        .stringValue())
                .isEqualTo("#/components/responses/Conflict");
        assertThat(document.validate(
                        "/components/responses/Conflict/content/application~1problem+json/schema", conflict))
                .isEmpty();
    }

    @Test
    void answers_toAQuestion_fitTheirSchemas() {
        String id = server.fleet().leading("ice-0003").finding().id().toString();
        for (String given : List.of(
                "{\"question\":\"air-filter\",\"answer\":\"clean\"}",
                "{\"question\":\"fan-turns\",\"answer\":\"cannot-tell\"}")) {
            HttpResponse<String> answered = web.post("/api/v1/alerts/" + id + "/answers", given);
            assertThat(answered.statusCode()).isEqualTo(200);
            assertThat(document.errors(
                            "/api/v1/alerts/{alert}/answers", "post", "200", "application~1json", answered.body()))
                    .isEmpty();
        }
        assertThat(web.post("/api/v1/alerts/" + id + "/answers", "{\"question\":\"air-filter\",\"answer\":\"perhaps\"}")
                        .statusCode())
                .isEqualTo(400);
    }

    @Test
    void commissioning_ofTheServer_fitsItsSchemas() {
        String template = "/api/v1/machines/{machine}/commissioning";
        HttpResponse<String> stored =
                web.post("/api/v1/machines/ice-0003/commissioning", AccessTest.commissioning(web, "ice-0003"));

        assertThat(stored.statusCode()).isEqualTo(201);
        assertThat(document.errors(template, "post", "201", "application~1json", stored.body()))
                .isEmpty();
        assertThat(document.errors(
                        template,
                        "get",
                        "200",
                        "application~1json",
                        web.get("/api/v1/machines/ice-0003/commissioning").body()))
                .isEmpty();
    }

    @Test
    void work_ofTheServer_fitsItsSchemas() {
        JsonNode example = document.at(
                "/paths/~1api~1v1~1machines~1{machine}~1work-reports/post/requestBody/content/application~1json/examples/fan/value");
        String now = web.json("/api/v1/status").path("now").stringValue();
        String body = example.toString().replace(example.path("time").stringValue(), now);
        HttpResponse<String> first = web.post("/api/v1/machines/ice-0003/work-reports", body);
        HttpResponse<String> again = web.post("/api/v1/machines/ice-0003/work-reports", body);

        String template = "/api/v1/machines/{machine}/work-reports";
        assertThat(first.statusCode()).isEqualTo(201);
        assertThat(again.statusCode()).isEqualTo(200);
        assertThat(document.errors(template, "post", "201", "application~1json", first.body()))
                .isEmpty();
        assertThat(document.errors(template, "post", "200", "application~1json", again.body()))
                .isEmpty();
        assertThat(document.errors(
                        template,
                        "get",
                        "200",
                        "application~1json",
                        web.get("/api/v1/machines/ice-0003/work-reports").body()))
                .isEmpty();
        String id = example.path("id").stringValue();
        assertThat(document.errors(
                        "/api/v1/work-reports/{report}",
                        "get",
                        "200",
                        "application~1json",
                        web.get("/api/v1/work-reports/" + id).body()))
                .isEmpty();
        String photo = "/api/v1/work-reports/" + id + "/photos/" + UUID.randomUUID();
        for (String status : List.of("201", "200")) {
            HttpResponse<String> sent = web.put(photo, "image/jpeg", Jpegs.small());
            assertThat(sent.statusCode()).hasToString(status);
            assertThat(document.errors(
                            "/api/v1/work-reports/{report}/photos/{photo}",
                            "put",
                            status,
                            "application~1json",
                            sent.body()))
                    .isEmpty();
        }
        assertThat(document.errors(
                        "/api/v1/work-reports/{report}",
                        "get",
                        "200",
                        "application~1json",
                        web.get("/api/v1/work-reports/" + id).body()))
                .isEmpty();
    }

    @Test
    void tables_thatAreSent_haveAnswersThatFitTheirSchemas() {
        for (String path : List.of("/api/v1/events/import", "/api/v1/weather")) {
            for (String csv : List.of(
                    "site,date,max_c\nsite-1,2026-07-01,31\nnowhere,2026-07-01,20\n",
                    "time,machine,event\n2026-05-04T09:30:00Z,ice-9999,cleaned\n")) {
                HttpResponse<String> answer = web.send(web.request(path)
                        .header("Content-Type", "text/csv")
                        .POST(BodyPublishers.ofString(csv))
                        .build());
                boolean isItsOwn = csv.startsWith("site") == path.endsWith("weather");
                assertThat(answer.statusCode()).isEqualTo(isItsOwn ? 200 : 400);
                assertThat(document.errors(
                                path,
                                "post",
                                isItsOwn ? "200" : "400",
                                isItsOwn ? "application~1json" : "application~1problem+json",
                                answer.body()))
                        .as(path)
                        .isEmpty();
            }
        }
    }

    @Test
    void holds_ofTheServer_fitTheirSchemas() {
        String body = "{\"reason\":\"compressor\",\"permittedBy\":\"head of service\"}";
        HttpResponse<String> taken = web.post("/api/v1/machines/ice-0001/out-of-service", body);
        assertThat(taken.statusCode()).isEqualTo(200);
        assertThat(document.errors(
                        "/api/v1/machines/{machine}/out-of-service", "post", "200", "application~1json", taken.body()))
                .isEmpty();
        assertThat(document.errors(
                        "/api/v1/machines/{machine}",
                        "get",
                        "200",
                        "application~1json",
                        web.get("/api/v1/machines/ice-0001").body()))
                .isEmpty();
        String id = Web.parse(taken).path("id").stringValue();
        HttpResponse<String> ended = web.post("/api/v1/holds/" + id + "/end", "{\"reason\":\"runs\"}");
        assertThat(document.errors("/api/v1/holds/{hold}/end", "post", "200", "application~1json", ended.body()))
                .isEmpty();
    }

    @Test
    void notices_ofTheServer_fitTheirSchemas() {
        String failed = "";
        for (JsonNode notice : web.json("/api/v1/notices")) {
            String id = notice.path("id").stringValue();
            failed = notice.path("state").stringValue().equals("failed") ? id : failed;
            String whole = web.get("/api/v1/notices/" + id).body();
            assertThat(document.errors("/api/v1/notices/{notice}", "get", "200", "application~1json", whole))
                    .isEmpty();
            assertThat(Web.parse(web.get("/api/v1/notices/" + id)).path("text").isString())
                    .isTrue();
        }
        HttpResponse<String> again = web.post("/api/v1/notices/" + failed + "/retry", "{}");
        assertThat(again.statusCode()).isEqualTo(200);
        assertThat(document.errors("/api/v1/notices/{notice}/retry", "post", "200", "application~1json", again.body()))
                .isEmpty();
        assertThat(web.post("/api/v1/notices/" + failed + "/retry", "{}").statusCode())
                .isEqualTo(409);
        HttpResponse<String> test = web.post("/api/v1/receivers/desk/test", "{}");
        assertThat(document.errors(
                        "/api/v1/receivers/{receiver}/test", "post", "200", "application~1json", test.body()))
                .isEmpty();
        assertThat(web.post("/api/v1/receivers/nobody/test", "{}").statusCode()).isEqualTo(404);
    }

    @Test
    void rules_ofTheServer_fitTheirSchemas() {
        String type = "/content/application~1json/schema";
        for (Book book : Book.values()) {
            String body = web.get("/api/v1/rules/" + book.code()).body();
            assertThat(document.validate("/components/responses/RuleBook" + type, body))
                    .isEmpty();
            String check = web.post("/api/v1/rules/" + book.code() + "/check", text(book.standardText()))
                    .body();
            assertThat(document.validate("/components/schemas/RuleCheck", check))
                    .isEmpty();
            String wrong = web.post("/api/v1/rules/" + book.code() + "/check", text("- a"))
                    .body();
            assertThat(document.validate("/components/schemas/RuleCheck", wrong))
                    .isEmpty();
            assertThat(Web.parse(wrong).path("problems").size()).isPositive();
        }
        String problem = "/content/application~1problem+json/schema";
        HttpResponse<String> saved = put("\"0\"", Book.CASES.standardText() + "# ours");
        assertThat(saved.statusCode()).isEqualTo(200);
        assertThat(document.validate("/components/responses/RuleBook" + type, saved.body()))
                .isEmpty();
        assertThat(document.validate(
                        "/components/responses/RulesChanged" + problem,
                        put("\"0\"", "x: 1").body()))
                .isEmpty();
        assertThat(document.validate(
                        "/components/responses/RulesWrong" + problem,
                        put("\"1\"", "x: 1").body()))
                .isEmpty();
        assertThat(document.validate(
                        "/components/schemas/RuleVersion",
                        web.json("/api/v1/rules/cases/versions").get(0).toString()))
                .isEmpty();
    }

    private static HttpResponse<String> put(String tag, String text) {
        return web.send(web.request("/api/v1/rules/cases", "If-Match", tag)
                .header("Content-Type", "application/json")
                .PUT(BodyPublishers.ofString(text(text).replaceFirst("}$", ",\"reason\":\"r\"}")))
                .build());
    }

    private static String text(String text) {
        return JsonMapper.builder().build().writeValueAsString(Map.of("text", text));
    }

    @Test
    void validation_ofAWrongAnswer_findsIt() {
        assertThat(document.validate("/components/schemas/Fleet", "{\"total\":-1,\"machines\":[{}]}"))
                .isNotEmpty();
    }

    /** Bodies of requests and of answers, wherever the document shows one. */
    @Test
    void examples_ofTheDocument_fitTheirSchemas() {
        List<String> examples = document.withExamples();
        assertThat(examples).hasSizeGreaterThan(10);
        for (String content : examples) {
            for (JsonNode example : document.at(content + "/examples")) {
                assertThat(document.validate(
                                OpenApiDocument.escaped(content) + "/schema",
                                example.path("value").toString()))
                        .as(content)
                        .isEmpty();
            }
        }
    }
}
