package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.net.http.HttpResponse;
import java.util.Set;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Rejected messages and dead letters over HTTP: taken again, by whom, and what is refused. */
class ReplayApiTest {
    private FakeServer server;

    @BeforeEach
    void start() {
        server = FakeServer.start(FakeFleets::small);
    }

    @AfterEach
    void stop() {
        server.close();
    }

    private HttpResponse<String> replay(Role role, SiteScope sites, String id) {
        return new Web(server, server.headers(server.account("Ada", role, sites)))
                .post("/api/v1/system/rejects/" + id + "/replay", "{}");
    }

    @Test
    void replay_byAnAdministrator_saysWhoAndWhatCameOfIt() {
        HttpResponse<String> answer = replay(Role.ADMINISTRATOR, SiteScope.EVERY, "0-7");

        assertThat(answer.statusCode()).isEqualTo(200);
        JsonNode done = JsonMapper.shared().readTree(answer.body());
        assertThat(done.path("by").stringValue()).isEqualTo("Ada");
        assertThat(done.path("stored").intValue()).isEqualTo(1);
        assertThat(done.path("rejected").isEmpty()).isTrue();
    }

    @Test
    void backup_byAnAdministrator_isAFile_andIsGoneFromTheServer() {
        HttpResponse<String> answer = new Web(
                        server, server.headers(server.account("Ada", Role.ADMINISTRATOR, SiteScope.EVERY)))
                .post("/api/v1/system/backup", "{}");

        assertThat(answer.statusCode()).isEqualTo(200);
        assertThat(answer.headers().firstValue("Content-Type")).hasValue("application/zip");
        assertThat(answer.headers().firstValue("Content-Disposition").orElseThrow())
                .matches("attachment; filename=\"rimecast-.*\\.backup\\.zip\"");
        assertThat(answer.body()).isEqualTo("everything");
    }

    @Test
    void replay_withNothingLeft_saysWhoTookIt() {
        HttpResponse<String> answer = replay(Role.ADMINISTRATOR, SiteScope.EVERY, "1-4");

        assertThat(answer.statusCode()).isEqualTo(409);
        assertThat(answer.body()).contains("nothing-left", "Everything of it was taken by Ada");
    }

    @Test
    void replay_ofWhatIsNotThere_isNotFound() {
        assertThat(replay(Role.ADMINISTRATOR, SiteScope.EVERY, "9-9").statusCode())
                .isEqualTo(404);
    }

    @Test
    void replay_byWhoOnlyMayLook_orSeesOneSite_isRefused() {
        assertThat(replay(Role.ANALYST, SiteScope.EVERY, "0-7").statusCode()).isEqualTo(403);
        assertThat(replay(Role.ADMINISTRATOR, SiteScope.of(Set.of("site-1")), "0-7")
                        .statusCode())
                .isEqualTo(403);
    }

    private HttpResponse<String> retake(Role role, SiteScope sites, String id) {
        return new Web(server, server.headers(server.account("Ada", role, sites)))
                .post("/api/v1/system/dead-letters/" + id + "/replay", "{}");
    }

    @Test
    void retake_byAnAdministrator_saysWho() {
        HttpResponse<String> answer =
                retake(Role.ADMINISTRATOR, SiteScope.EVERY, "6f9c8a3e-5d0b-3c86-9f0a-2f1d7c4b6a55");

        assertThat(answer.statusCode()).isEqualTo(200);
        JsonNode done = JsonMapper.shared().readTree(answer.body());
        assertThat(done.path("by").stringValue()).isEqualTo("Ada");
        assertThat(done.has("failedAgain")).isFalse();
    }

    @Test
    void retake_thatIsNotPossible_saysWhatToDoInstead() {
        HttpResponse<String> answer =
                retake(Role.ADMINISTRATOR, SiteScope.EVERY, "0b1c2d3e-5d0b-3c86-9f0a-2f1d7c4b6a55");

        assertThat(answer.statusCode()).isEqualTo(409);
        assertThat(answer.body()).contains("not-possible", "The next one does the same");
    }

    @Test
    void retake_ofWhatWasTaken_orIsNotThere_saysSo() {
        HttpResponse<String> taken =
                retake(Role.ADMINISTRATOR, SiteScope.EVERY, "11111111-5d0b-3c86-9f0a-2f1d7c4b6a55");
        assertThat(taken.statusCode()).isEqualTo(409);
        assertThat(taken.body()).contains("nothing-left", "by Ada");
        assertThat(new Web(server, server.headers(Role.ADMINISTRATOR))
                        .post("/api/v1/system/dead-letters/nothing/replay", "{}")
                        .statusCode())
                .isEqualTo(404);
    }

    @Test
    void retake_byWhoOnlyMayLook_orSeesOneSite_isRefused() {
        String letter = "6f9c8a3e-5d0b-3c86-9f0a-2f1d7c4b6a55";
        assertThat(retake(Role.ANALYST, SiteScope.EVERY, letter).statusCode()).isEqualTo(403);
        Web one = new Web(
                server, server.headers(server.account("one site", Role.ADMINISTRATOR, SiteScope.of(Set.of("site-1")))));
        assertThat(one.post("/api/v1/system/dead-letters/" + letter + "/replay", "{}")
                        .statusCode())
                .isEqualTo(403);
        assertThat(one.get("/api/v1/system/dead-letters").statusCode()).isEqualTo(403);
    }
}
