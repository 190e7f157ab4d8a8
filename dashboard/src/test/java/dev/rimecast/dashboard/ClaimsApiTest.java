package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;

/** Machines that are put into the register over the API. */
class ClaimsApiTest {
    private static final String CLAIMS = "/api/v1/claims";

    private static FakeServer server;
    private static Web administrator;
    private static OpenApiDocument description;

    @BeforeAll
    static void start() {
        server = FakeServer.guarded(FakeFleets::small);
        administrator = of("Ada", Role.ADMINISTRATOR, SiteScope.EVERY);
        description = OpenApiDocument.read();
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    private static String row(String machine, String more) {
        return "{\"row\":{\"machine\":\"" + machine + "\",\"site\":\"site-1\",\"gateway\":\"gw-1\"" + more + "}}";
    }

    @Test
    void claim_isInTheList_waitsNoMore_andIsTakenOutAgain() {
        assertThat(administrator.get("/api/v1/system/unclaimed").body()).contains("ice-9001");
        HttpResponse<String> made = administrator.post(
                CLAIMS, row("ice-9001", ",\"model_group\":\"cube-50\",\"rated_kg_per_day\":\"62\",\"serial\":\"\""));
        assertThat(made.statusCode()).as(made.body()).isEqualTo(201);
        JsonNode claim = Web.parse(made);
        assertThat(claim.path("by").asString("")).isEqualTo("Ada");
        assertThat(claim.path("row").path("rated_kg_per_day").asString("")).isEqualTo("62");
        assertThat(claim.path("row").has("serial")).as("empty").isFalse();
        assertThat(description.errors(CLAIMS, "post", "201", "application~1json", made.body()))
                .isEmpty();

        HttpResponse<String> list = administrator.get(CLAIMS);
        assertThat(list.body()).contains("ice-9001", "cube-50");
        assertThat(description.errors(CLAIMS, "get", "200", "application~1json", list.body()))
                .isEmpty();
        assertThat(administrator.get("/api/v1/system/unclaimed").body()).doesNotContain("ice-9001");

        Web second = of("Ben", Role.ADMINISTRATOR, SiteScope.EVERY);
        assertThat(second.post(CLAIMS, row("ice-9001", "")).body()).contains("409", "claimed by Ada");

        assertThat(release("ice-9001")).isEqualTo(204);
        assertThat(release("ice-9001")).isEqualTo(404);
        assertThat(administrator.get("/api/v1/system/unclaimed").body()).contains("ice-9001");
    }

    @Test
    void rowThatIsWrong_isRefused_withEveryColumnAndWhatAFileWouldSay() {
        HttpResponse<String> refused = administrator.post(
                CLAIMS, row("ice-9002", ",\"kind\":\"batsh\",\"bin_kg\":\"much\",\"modelgroup\":\"x\""));
        assertThat(refused.statusCode()).isEqualTo(400);
        assertThat(refused.body()).contains("modelgroup", "did you mean 'model_group'?");

        HttpResponse<String> cells =
                administrator.post(CLAIMS, row("Ice 9", ",\"kind\":\"batsh\",\"bin_kg\":\"much\""));
        assertThat(cells.statusCode()).isEqualTo(400);
        JsonNode problem = Web.parse(cells);
        assertThat(problem.path("type").asString("")).endsWith(":bad-row");
        assertThat(problem.path("problems")
                        .valueStream()
                        .map(each -> each.path("column").asString("")))
                .containsExactlyInAnyOrder("machine", "kind", "bin_kg");
        assertThat(cells.body()).contains("did you mean 'batch'?");
        assertThat(description.errors(CLAIMS, "post", "400", "application~1problem+json", cells.body()))
                .isEmpty();

        for (String body :
                List.of("{}", "{\"row\":[]}", "{\"row\":{\"machine\":7}}", "{\"row\":{\"machine\":\"a\\u0000\"}}")) {
            assertThat(administrator.post(CLAIMS, body).statusCode()).as(body).isEqualTo(400);
        }
        assertThat(administrator
                        .post(CLAIMS, row("ice-9002", "").replace("site-1", "site-nowhere"))
                        .body())
                .contains("409", "there is no site site-nowhere");
        assertThat(administrator.get(CLAIMS).body()).doesNotContain("ice-9002");
    }

    @Test
    void administratorOfSomeSites_andEveryOtherRole_areTurnedAway() {
        for (Role role : Role.values()) {
            if (role != Role.SCREEN) {
                SiteScope sites = role == Role.ADMINISTRATOR ? SiteScope.of(List.of("site-1")) : SiteScope.EVERY;
                Web asks = of("a " + role.code(), role, sites);
                assertThat(asks.post(CLAIMS, row("ice-9002", "")).statusCode())
                        .as(role.code())
                        .isEqualTo(403);
                assertThat(asks.get(CLAIMS).statusCode()).as(role.code()).isEqualTo(403);
            }
        }
    }

    private static int release(String machine) {
        return administrator
                .send(administrator
                        .request(CLAIMS + '/' + machine)
                        .method("DELETE", BodyPublishers.noBody())
                        .build())
                .statusCode();
    }

    private static Web of(String name, Role role, SiteScope sites) {
        return new Web(server, server.headers(server.account(name, role, sites)));
    }
}
