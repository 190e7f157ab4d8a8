package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.net.http.HttpResponse;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;

/** The keys of gateways over the API. */
class GatewaysApiTest {
    private static FakeServer server;
    private static Web administrator;

    @BeforeAll
    static void start() {
        server = FakeServer.guarded(FakeFleets::small);
        administrator = of("Ada", Role.ADMINISTRATOR, SiteScope.EVERY);
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    @Test
    void secret_isInTheAnswerThatMakesIt_andInNoOther() {
        JsonNode made = made("/api/v1/gateways/gw-1/credentials", "{}");
        String secret = made.path("secret").asString("");
        assertThat(secret).hasSize(43);
        assertThat(made.path("addedBy").asString("")).isNotEmpty();

        HttpResponse<String> list = administrator.get("/api/v1/gateway-credentials");
        assertThat(list.body()).contains("gw-1").doesNotContain(secret, "sha256");

        JsonNode next = made("/api/v1/gateways/gw-1/credentials/rotate", "{\"graceHours\":1}");
        assertThat(next.path("secret").asString("")).hasSize(43).isNotEqualTo(secret);
        assertThat(administrator
                        .post("/api/v1/gateways/gw-1/credentials/revoke", "{}")
                        .statusCode())
                .isEqualTo(200);
        assertThat(administrator
                        .post("/api/v1/gateways/gw-1/credentials/revoke", "{}")
                        .statusCode())
                .isEqualTo(404);
    }

    @Test
    void oneKey_isTakenBackByItsFingerprint_andTheOtherStays() {
        String first = made("/api/v1/gateways/gw-7/credentials", "{}")
                .path("fingerprint")
                .asString("");
        String second = made("/api/v1/gateways/gw-7/credentials", "{}")
                .path("fingerprint")
                .asString("");
        String revoke = "/api/v1/gateways/gw-7/credentials/revoke";
        HttpResponse<String> ended = administrator.post(revoke, "{\"fingerprint\":\"" + first + "\"}");
        assertThat(ended.statusCode()).isEqualTo(200);
        assertThat(Web.parse(ended)).hasSize(1);
        assertThat(ended.body()).contains(first).doesNotContain(second);
        assertThat(administrator
                        .post(revoke, "{\"fingerprint\":\"" + first + "\"}")
                        .statusCode())
                .isEqualTo(404);
        assertThat(administrator.post(revoke, "{\"fingerprint\":\"12\"}").statusCode())
                .isEqualTo(409);
        assertThat(administrator
                        .post("/api/v1/gateways/gw-7/credentials/rotate", "{\"certificate\":\"x\"}")
                        .body())
                .contains("409", "X.509");
        assertThat(Web.parse(administrator.post(revoke, "{}"))).hasSize(1);
    }

    @Test
    void wrongAsks_areRefused_andSayWhy() {
        assertThat(administrator.post("/api/v1/gateways/GW/credentials", "{}").body())
                .contains("409", "a-z");
        assertThat(administrator
                        .post("/api/v1/gateways/gw-2/credentials", "{\"certificate\":\"x\"}")
                        .body())
                .contains("409", "X.509");
        assertThat(administrator
                        .post("/api/v1/gateways/gw-2/credentials/rotate", "{\"graceHours\":100000}")
                        .body())
                .contains("744");
    }

    @Test
    void administratorOfSomeSites_andEveryOtherRole_areTurnedAway() {
        for (Role role : Role.values()) {
            if (role != Role.SCREEN) {
                SiteScope sites = role == Role.ADMINISTRATOR ? SiteScope.of(List.of("site-1")) : SiteScope.EVERY;
                Web asks = of("a " + role.code(), role, sites);
                assertThat(asks.post("/api/v1/gateways/gw-1/credentials", "{}").statusCode())
                        .as(role.code())
                        .isEqualTo(403);
                assertThat(asks.get("/api/v1/gateway-credentials").statusCode())
                        .as(role.code())
                        .isEqualTo(403);
            }
        }
    }

    private static Web of(String name, Role role, SiteScope sites) {
        return new Web(server, server.headers(server.account(name, role, sites)));
    }

    private static JsonNode made(String path, String body) {
        HttpResponse<String> answer = administrator.post(path, body);
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
        return Web.parse(answer);
    }
}
