package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.net.http.HttpResponse;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.node.ObjectNode;

/** The first page has its rows in it, for those who may see them. */
class FirstLookTest {
    private static final Pattern BLOCK =
            Pattern.compile("<script type=\"application/json\" id=\"first\">(.*?)</script>", Pattern.DOTALL);
    private static final String ASKS_FOR_FLEET = "href=\"/api/v1/fleet\">";

    private static FakeServer server;

    @BeforeAll
    static void start() {
        server = FakeServer.guarded(FakeFleets::small);
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    private static Web web(String name, Role role, SiteScope sites) {
        return new Web(server, server.headers(server.account(name, role, sites)));
    }

    private static Optional<JsonNode> first(HttpResponse<String> page) {
        Matcher block = BLOCK.matcher(page.body());
        return block.find() ? Optional.of(Web.parse(block.group(1))) : Optional.empty();
    }

    private static JsonNode firstOf(Web web) {
        return first(web.get("/")).orElseThrow();
    }

    @Test
    void page_ofSomebodyWhoSeesTheFleet_hasWhatTheApiAnswers() {
        Web olga = web("Olga", Role.OPERATOR, SiteScope.EVERY);

        JsonNode first = firstOf(olga);

        assertThat(first.path("fleet").path("machines")).hasSize(24);
        assertThat(first.path("fleet")).isEqualTo(olga.json("/api/v1/fleet"));
        assertThat(first.path("status").path("stages"))
                .isNotEmpty()
                .isEqualTo(olga.json("/api/v1/status").path("stages"));
    }

    @Test
    void page_ofSomebodyOfOneSite_hasNoMachineOfAnother() {
        Web bea = web("Bea of the bar", Role.OPERATOR, SiteScope.of(List.of("site-3")));
        // so that an answer for all is at hand
        firstOf(web("Olga", Role.OPERATOR, SiteScope.EVERY));

        JsonNode first = firstOf(bea);

        assertThat(first.path("fleet")
                        .path("machines")
                        .valueStream()
                        .map(row -> row.path("site").stringValue()))
                .hasSize(4)
                .containsOnly("site-3");
        assertThat(bea.get("/").body()).doesNotContain("Larch Hotel", "ice-0007");
        assertThat(first.path("fleet")).isEqualTo(bea.json("/api/v1/fleet"));
    }

    @Test
    void page_sayingWhoIsSignedIn_leavesOutWhatAChangeHasToBring() {
        Web olga = web("Olga", Role.OPERATOR, SiteScope.EVERY);
        ObjectNode answered = (ObjectNode) olga.json("/api/v1/session");
        String token = answered.remove("forgeryToken").stringValue();

        HttpResponse<String> page = olga.get("/");

        assertThat(first(page).orElseThrow().path("session")).isEqualTo(answered);
        assertThat(page.body()).doesNotContain(token);
    }

    @Test
    void page_ofNobody_andOfAWallScreen_hasNothing() {
        HttpResponse<String> nobodys = new Web(server, List.of()).get("/");
        assertThat(nobodys.statusCode()).isEqualTo(303);
        assertThat(nobodys.body()).doesNotContain("first", "ice-0003");

        HttpResponse<String> screens = new Web(server, server.headers(Role.SCREEN)).get("/");
        assertThat(first(screens)).isEmpty();
        assertThat(screens.body()).doesNotContain("ice-0003");
    }

    @Test
    void page_isKeptByNobodyButTheVisitorsBrowser() {
        HttpResponse<String> page = web("Olga", Role.OPERATOR, SiteScope.EVERY).get("/");
        assertThat(page.headers().firstValue("Cache-Control")).hasValue("private, no-cache");
    }

    @Test
    void page_withAllRows_doesNotHaveThemAskedForEarly_butWhoIsSignedIn() {
        String page = web("Olga", Role.OPERATOR, SiteScope.EVERY).get("/").body();

        assertThat(page).containsSubsequence("href=\"/api/v1/session\"", "href=\"/assets/", "id=\"first\"");
        assertThat(page).doesNotContain("crossorigin " + ASKS_FOR_FLEET);
    }

    @Test
    void wordsOfPeople_endNoBlock() {
        String name = "</script><script>alert('&amp;')</script>";
        AlertView alert = server.fleet().leading("ice-0011");
        server.fleet().acknowledge(alert.finding().id(), alert.version(), name, "");

        HttpResponse<String> page = web("Olga", Role.OPERATOR, SiteScope.EVERY).get("/");

        assertThat(page.body()).doesNotContain(name).contains("\\u003c/script>\\u003cscript>");
        assertThat(page.body().split("<script", -1))
                .as("the data and the page's own")
                .hasSize(3);
        assertThat(first(page)
                        .orElseThrow()
                        .path("fleet")
                        .path("machines")
                        .valueStream()
                        .filter(row -> row.path("machine").stringValue().equals("ice-0011"))
                        .map(row -> row.path("leading").path("hasIt").stringValue()))
                .containsExactly(name);
    }

    @Test
    void page_ofALargeFleet_hasItsFirstRows_andTheOthersAskedForAtOnce() {
        try (FakeServer large = FakeServer.start((clock, changes) -> FakeFleets.large(clock, changes, 250, 10))) {
            Web web = new Web(large);
            HttpResponse<String> page = web.get("/");

            JsonNode fleet = first(page).orElseThrow().path("fleet");
            assertThat(fleet.path("total").intValue()).isEqualTo(250);
            assertThat(fleet.path("machines").valueStream())
                    .hasSize(100)
                    .containsExactlyElementsOf(web.json("/api/v1/fleet")
                            .path("machines")
                            .valueStream()
                            .limit(100)
                            .toList());
            assertThat(page.body()).containsSubsequence(ASKS_FOR_FLEET, "href=\"/api/v1/session\"", "href=\"/assets/");
        }
    }

    @Test
    void page_ofWhoeverComesIntoADemonstration_hasTheRowsOnTheFirstVisit() {
        try (FakeServer demonstration = FakeServer.start(FakeFleets::small)) {
            HttpResponse<String> page = new Web(demonstration, List.of()).get("/");

            assertThat(page.headers().firstValue("Set-Cookie")).isPresent();
            assertThat(first(page).orElseThrow().path("fleet").path("machines")).hasSize(24);
        }
    }
}
