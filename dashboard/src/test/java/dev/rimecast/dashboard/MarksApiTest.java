package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tools.jackson.databind.JsonNode;

class MarksApiTest {
    private static final String ROOT = "/api/v1/marks";
    private static final String SPAN = "\"from\":\"2026-05-01T00:00:00Z\",\"to\":\"2026-05-09T00:00:00Z\"";

    private FakeServer server;
    private Web analyst;
    private OpenApiDocument document;

    @BeforeEach
    void start() {
        server = FakeServer.guarded(FakeFleets::small);
        analyst = new Web(server, server.headers(Role.ANALYST));
        document = OpenApiDocument.read();
    }

    @AfterEach
    void stop() {
        server.close();
    }

    private static String mark(String machine, String rest) {
        return "{\"machine\":\"" + machine + "\"," + SPAN + "," + rest + "}";
    }

    private HttpResponse<String> withdraw(Web web, String id) {
        return web.send(web.request(ROOT + "/" + id)
                .method("DELETE", BodyPublishers.noBody())
                .build());
    }

    private void fits(HttpResponse<String> answer, String template, String method, int status) {
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(status);
        String type = status < 400 ? "application~1json" : "application~1problem+json";
        assertThat(document.errors(template, method, String.valueOf(status), type, answer.body()))
                .isEmpty();
    }

    @Test
    void mark_isMadeSupersededWithdrawn_andExportedWhileItCounts() {
        String alert = server.fleet().leading("ice-0003").finding().id().toString();
        fits(
                analyst.post(
                        ROOT,
                        mark(
                                "ice-0003",
                                "\"mark\":\"real\",\"cause\":\"scale\",\"note\":\"seen\",\"alert\":\"" + alert + "\"")),
                ROOT,
                "post",
                201);
        String second = Web.parse(analyst.post(ROOT, mark("ice-0003", "\"mark\":\"not\"")))
                .path("id")
                .stringValue();
        analyst.post(ROOT, mark("ice-0001", "\"mark\":\"real\",\"cause\":\"scale\""));

        fits(analyst.get(ROOT), ROOT, "get", 200);
        JsonNode list = analyst.json(ROOT + "?machine=ice-0003");
        assertThat(list.valueStream().map(each -> each.path("state").stringValue()))
                .containsExactly("standing", "superseded");
        assertThat(list.get(1).path("alert").stringValue()).isEqualTo(alert);
        assertThat(analyst.json(ROOT + "?limit=1").size()).isEqualTo(1);
        assertThat(analyst.get(ROOT + ".csv").body()).isEqualToNormalizingNewlines("""
                        machine,from,to,mark,cause
                        ice-0003,2026-05-01T00:00:00Z,2026-05-09T00:00:00Z,not,
                        ice-0001,2026-05-01T00:00:00Z,2026-05-09T00:00:00Z,real,scale
                        """);

        assertThat(withdraw(analyst, second).statusCode()).isEqualTo(204);
        fits(withdraw(analyst, second), ROOT + "/{id}", "delete", 404);
        fits(withdraw(analyst, "no-id"), ROOT + "/{id}", "delete", 404);
        assertThat(analyst.json(ROOT + "?machine=ice-0003")
                        .get(0)
                        .path("withdrawnBy")
                        .stringValue())
                .isEqualTo("analyst");
        assertThat(analyst.get(ROOT + ".csv").body()).doesNotContain("ice-0003");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = ';',
            value = {
                "\"mark\":\"perhaps\"; mark must be one of [real, not, unknown]",
                "\"mark\":\"not\",\"cause\":\"scale\"; cause belongs to a mark that is real",
                "\"mark\":\"real\",\"cause\":\"moonlight\"; cause is none that detection knows",
                "\"mark\":\"real\",\"to\":\"2026-05-01T00:00:00Z\"; to must be after from",
                "\"mark\":\"real\",\"to\":\"2126-05-01T00:00:00Z\"; to must not be later than now",
            })
    void badMark_isRefusedAndSaysWhy(String rest, String why) {
        String body = mark("ice-0003", rest.trim());
        HttpResponse<String> answer = analyst.post(
                ROOT, rest.contains("\"to\"") ? body.replaceFirst(",\"to\":\"2026-05-09T00:00:00Z\"", "") : body);
        fits(answer, ROOT, "post", 400);
        assertThat(answer.body()).contains(why);
    }

    /** ice-0003 stands on site-1. */
    @Test
    void ofAnotherSite_nothingIsThere() {
        String alert = server.fleet().leading("ice-0003").finding().id().toString();
        String here = Web.parse(analyst.post(ROOT, mark("ice-0003", "\"mark\":\"not\"")))
                .path("id")
                .stringValue();
        Web elsewhere =
                new Web(server, server.headers(server.account("Eli", Role.ANALYST, SiteScope.of(List.of("site-2")))));

        fits(elsewhere.post(ROOT, mark("ice-0003", "\"mark\":\"not\"")), ROOT, "post", 404);
        String own = server.fleet().fleet().stream()
                .filter(row -> row.site().equals("site-2"))
                .findFirst()
                .orElseThrow()
                .machine();
        fits(elsewhere.post(ROOT, mark(own, "\"mark\":\"not\",\"alert\":\"" + alert + "\"")), ROOT, "post", 404);
        fits(elsewhere.post(ROOT, mark(own, "\"mark\":\"not\"")), ROOT, "post", 201);
        assertThat(elsewhere
                        .json(ROOT)
                        .valueStream()
                        .map(each -> each.path("machine").stringValue()))
                .containsExactly(own);
        assertThat(elsewhere.get(ROOT + ".csv").body()).contains(own).doesNotContain("ice-0003");
        fits(withdraw(elsewhere, here), ROOT + "/{id}", "delete", 404);
        assertThat(analyst.json(ROOT).size()).isEqualTo(2);
    }
}
