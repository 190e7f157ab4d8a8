package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.net.http.HttpResponse;
import java.util.Set;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tools.jackson.databind.JsonNode;

/** The list of open alerts is kept for all who see the same; nobody notices but by the time that it takes. */
class KeptAlertsTest {
    private FakeServer server;
    private Web web;

    @BeforeEach
    void start() {
        server = FakeServer.start(FakeFleets::small);
        web = new Web(server);
    }

    @AfterEach
    void stop() {
        server.close();
    }

    private JsonNode listed(Web who, AlertView alert) {
        for (JsonNode each : who.json("/api/v1/alerts")) {
            if (each.path("id").stringValue().equals(alert.finding().id().toString())) {
                return each;
            }
        }
        throw new AssertionError(alert.finding().id() + " is not in the list");
    }

    @Test
    void askedAgain_withItsTag_isNotModified() {
        HttpResponse<String> first = web.get("/api/v1/alerts");

        HttpResponse<String> again = web.get(
                "/api/v1/alerts",
                "If-None-Match",
                first.headers().firstValue("ETag").orElseThrow());

        assertThat(again.statusCode()).isEqualTo(304);
    }

    /** It may be five seconds old where nobody has told of a change. */
    @ParameterizedTest
    @ValueSource(strings = {"", "?open=true", "?limit=500&open=true", "?detail=false"})
    void askedAgain_isWhatWasKept_alsoWhereAChangeWasNotTold(String query) {
        HttpResponse<String> first = web.get("/api/v1/alerts" + query);
        server.fleet().clearUntold("ice-0003");

        HttpResponse<String> again = web.get("/api/v1/alerts" + query);

        assertThat(again.headers().firstValue("ETag"))
                .isPresent()
                .isEqualTo(first.headers().firstValue("ETag"));
        assertThat(again.body()).isEqualTo(first.body());
    }

    /** What can be asked in any number of ways would drive out what every screen begins with. */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "_=1",
                "limit=499",
                "limit=0500",
                "open=true&open=true",
                "detail=true",
                "priority=high,medium,low"
            })
    void otherQuestions_areNotKept(String query) {
        HttpResponse<String> first = web.get("/api/v1/alerts?" + query);
        server.fleet().clearUntold("ice-0003");

        HttpResponse<String> again = web.get("/api/v1/alerts?" + query);

        assertThat(first.statusCode()).isEqualTo(200);
        assertThat(again.body()).isNotEqualTo(first.body());
    }

    @Test
    void changedHere_isSeenAtOnce() {
        AlertView alert = server.fleet().leading("ice-0003");
        assertThat(listed(web, alert).path("state").stringValue()).isEqualTo("unacknowledged");

        HttpResponse<String> done = web.post(
                "/api/v1/alerts/" + alert.finding().id() + "/acknowledge", "{\"version\":" + alert.version() + "}");

        assertThat(done.statusCode()).isEqualTo(200);
        assertThat(listed(web, alert).path("state").stringValue()).isEqualTo("acknowledged");
    }

    @Test
    void changedElsewhere_isSeenOnceItIsTold() {
        AlertView alert = server.fleet().leading("ice-0003");
        assertThat(listed(web, alert).path("state").stringValue()).isEqualTo("unacknowledged");

        server.fleet().acknowledge(alert.finding().id(), alert.version(), "Ana", "");

        assertThat(listed(web, alert).path("hasIt").stringValue()).isEqualTo("Ana");
    }

    @Test
    void whoSeesOneSite_getsNothingOfTheOthers() {
        assertThat(web.get("/api/v1/alerts").body()).contains("\"site-2\"");

        Web one = web.as(server.account("Kim", Role.OPERATOR, SiteScope.of(Set.of("site-1"))));

        assertThat(one.json("/api/v1/alerts"))
                .isNotEmpty()
                .allSatisfy(
                        alert -> assertThat(alert.path("site").stringValue()).isEqualTo("site-1"));
    }

    @Test
    void firstPage_namesTheNext_alsoOfOtherQuestionsAskedBefore() {
        web.get("/api/v1/alerts?limit=3");
        web.get("/api/v1/alerts?open=true");

        assertThat(link("/api/v1/alerts?limit=2")).contains("</api/v1/alerts?limit=2&after=");
        assertThat(link("/api/v1/alerts?open=true&limit=2")).contains("</api/v1/alerts?open=true&limit=2&after=");
        assertThat(link("/api/v1/alerts?limit=2")).contains("</api/v1/alerts?limit=2&after=");
        assertThat(web.json("/api/v1/alerts?limit=3")).hasSize(3);
        assertThat(web.get("/api/v1/alerts").headers().firstValue("Link")).isEmpty();
    }

    private String link(String path) {
        return web.get(path).headers().firstValue("Link").orElseThrow();
    }
}
