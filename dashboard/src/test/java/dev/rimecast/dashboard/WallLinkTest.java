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

/** What the secret of a wall screen's link opens: {@link AccessTest} holds that every other route refuses it. */
class WallLinkTest {
    private static FakeServer server;

    @BeforeAll
    static void start() {
        server = FakeServer.start(FakeFleets::small);
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    private static Web screen(SiteScope sites) {
        return new Web(server).as(List.of("Authorization", "Bearer " + server.screen(sites)));
    }

    @Test
    void secret_ofALink_opensTheFleetOfItsSitesAndNothingElse() {
        Web screen = screen(SiteScope.of(List.of("site-1")));

        HttpResponse<String> fleet = screen.get("/api/v1/fleet");
        assertThat(fleet.statusCode()).isEqualTo(200);
        assertThat(fleet.body()).contains("ice-0003").doesNotContain("ice-0014");
        assertThat(screen.get("/api/v1/session").statusCode()).isEqualTo(403);
        assertThat(screen.get("/api/v1/machines/ice-0003").statusCode()).isEqualTo(403);
    }

    @Test
    void role_ofAScreen_isNoAccounts() {
        Web administrator = new Web(server).as(server.headers(Role.ADMINISTRATOR));

        HttpResponse<String> answer =
                administrator.post("/api/v1/accounts", "{\"name\":\"Wall\",\"role\":\"screen\",\"sites\":null}");

        assertThat(answer.statusCode()).isEqualTo(409);
        assertThat(answer.body()).contains("is for links, not for people");
    }
}
