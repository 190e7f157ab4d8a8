package dev.rimecast.app.spine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.io.TempDir;
import tools.jackson.databind.JsonNode;

/**
 * Somebody who is another gateway, another site or another firm's account tries to speak for the harbour, on every way in. After each
 * try the harbour's log, what analytics keeps of it, and what the database says of its alerts are what they were, byte for byte. That
 * this would notice a change is what the last test is for, in which the harbour's own gateway speaks.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class SpoofIT {
    @TempDir
    static Path directory;

    private TwoSites sites;
    private boolean isToStay = true;

    @BeforeAll
    void start() throws Exception {
        sites = new TwoSites(directory);
    }

    @AfterAll
    void stop() {
        if (sites != null) {
            sites.close();
        }
    }

    @AfterEach
    void harbourIsAsItWas() throws Exception {
        if (isToStay) {
            sites.awaitAnalytics();
            assertThat(sites.known()).isEqualTo(sites.before);
        }
    }

    @Test
    @Order(1)
    void endpoint_withoutAKey_withAnothersKey_andAGuess() {
        assertThat(sites.endpoint("gw-harbour", "").isRefused()).isTrue();
        assertThat(sites.endpoint("gw-harbour", sites.wardSecret).isRefused()).isTrue();
        assertThat(sites.endpoint("gw-harbour", "0".repeat(43)).isRefused()).isTrue();
        MqttConnectionOptions nameless = new MqttConnectionOptions();
        assertThatThrownBy(() -> new MqttWay(sites.server.mqttPort(), "", nameless)
                        .publish("gw-harbour", TwoSites.hot("harbour-1", 20)))
                .as("a name in the topic is no key")
                .isInstanceOf(MqttWay.Refused.class);
    }

    @Test
    @Order(2)
    void endpoint_anotherGateway_onTheTopicOfTheHarbour() {
        for (String topic : List.of("fleet/gw-harbour/senml", "fleet/gw-harbour/presence", "fleet/gw-harbour/ack")) {
            assertThatThrownBy(() ->
                            sites.endpoint("gw-ward", sites.wardSecret).send(topic, TwoSites.hot("harbour-1", 21)))
                    .as(topic)
                    .isInstanceOf(MqttWay.Refused.class);
        }
    }

    @Test
    @Order(3)
    void endpoint_anotherGateway_namesTheHarboursMachineInItsOwnPack() throws Exception {
        sites.endpoint("gw-ward", sites.wardSecret).publish("gw-ward", TwoSites.hot("harbour-1", 22));
        sites.endpoint("gw-ward", sites.wardSecret)
                .publish(
                        "gw-ward",
                        TwoSites.hot("harbour-1", 23)
                                .replace("[{", "[{\"from\":\"gw-harbour\",\"gateway\":\"gw-harbour\","));
        await().dontCatchUncaughtExceptions().atMost(TwoSites.LIMIT).until(() -> sites.rejected() == 2);
    }

    @Test
    @Order(4)
    void broker_whoeverMayPublishThere_onTheTopicOfTheHarbour_orNamingItsMachine() throws Exception {
        await().dontCatchUncaughtExceptions()
                .atMost(TwoSites.LIMIT)
                .untilAsserted(() ->
                        assertThat(sites.administrator.get("/api/v1/status")).contains("connected to the MQTT broker"));
        MqttWay way = new MqttWay(sites.brokerPort, "anybody", new MqttConnectionOptions());
        // The topic is all that this broker shows of a sender, and the harbour's gateway has a key of its own.
        way.publish("gw-harbour", TwoSites.hot("harbour-1", 24));
        way.send("fleet/gw-harbour/presence", "offline", true);
        way.publish("gw-ward", TwoSites.hot("harbour-1", 24));
        await().dontCatchUncaughtExceptions()
                .atMost(TwoSites.LIMIT)
                .until(() -> sites.rejected("unknown", "key-not-shown") >= 3);
        // A gateway without keys is taken in from there, but not for the harbour's machine.
        way.publish("gw-keyless", TwoSites.hot("harbour-1", 24));
        await().dontCatchUncaughtExceptions()
                .atMost(TwoSites.LIMIT)
                .until(() -> sites.rejected("gw-keyless", "machine-of-other-gateway") == 1);
    }

    @Test
    @Order(5)
    void link_ofAnotherSite_answersForItsOwnCaseOnly() {
        assertThat(sites.wardLink).hasSizeGreaterThan(40);
        for (String more : List.of(
                "\"case\":\"" + sites.harbourCase + "\"",
                "\"machine\":\"harbour-1\"",
                "\"alert\":\"" + sites.harbourAlert + "\",\"site\":\"harbour\"")) {
            HttpResponse<String> answer = sites.administrator.triesWith(
                    Optional.empty(),
                    "/api/v1/site-check/answers",
                    "{\"link\":\"" + sites.wardLink + "\",\"check\":\"air-filter\",\"answer\":\"was-full\"," + more
                            + "}");
            assertThat(answer.body()).doesNotContain("harbour");
        }
        for (String guess : List.of(sites.harbourCase, sites.harbourAlert, "harbour-1", "A".repeat(43))) {
            assertThat(sites.administrator
                            .triesWith(
                                    Optional.empty(),
                                    "/api/v1/site-check/answers",
                                    "{\"link\":\"" + guess + "\",\"check\":\"air-filter\",\"answer\":\"was-full\"}")
                            .statusCode())
                    .isEqualTo(404);
        }
    }

    @Test
    @Order(6)
    void api_anAccountOfAnotherSite_isToldThatNothingIsThere() {
        tryAll((path, body) -> sites.ward.tries(path, body).statusCode(), 404);
    }

    @Test
    @Order(7)
    void api_aTokenOfAnotherSite_aScreensLink_andNobody() {
        String ending = Instant.now().plus(Duration.ofDays(1)).toString();
        String token = token(
                "{\"name\":\"script\",\"role\":\"administrator\",\"sites\":[\"ward\"],\"endsAt\":\"" + ending + "\"}");
        tryAll(
                (path, body) ->
                        sites.ward.triesWith(Optional.of(token), path, body).statusCode(),
                404);
        String screen =
                token("{\"name\":\"wall\",\"role\":\"screen\",\"sites\":[\"ward\"],\"endsAt\":\"" + ending + "\"}");
        tryAll(
                (path, body) ->
                        sites.ward.triesWith(Optional.of(screen), path, body).statusCode(),
                403);
        tryAll(
                (path, body) ->
                        sites.ward.triesWith(Optional.empty(), path, body).statusCode(),
                401);
    }

    @Test
    @Order(8)
    void csv_eventsAndWeatherOfAnotherSite_areRefusedLineByLine() {
        HttpResponse<String> events = sites.ward.tries(
                "/api/v1/events/import",
                "time,machine,event\n" + TwoSites.NOW + ",harbour-1,cleaned\n" + TwoSites.NOW + ",harbour-1,call\n");
        assertThat(events.body()).contains("\"added\":0", "\"refused\":2");
        HttpResponse<String> weather =
                sites.ward.tries("/api/v1/weather", "site,date,max_c\nharbour,2026-03-02,45\nharbour,2026-03-03,45\n");
        assertThat(weather.body()).contains("\"refused\":2");
    }

    @Test
    @Order(9)
    void tls_theCertificateOfTheWard_onTheTopicsOfTheHarbour() throws Exception {
        for (String topic : List.of(
                "fleet/gw-harbour/senml",
                "fleet/gw-harbour/senml-cbor",
                "fleet/gw-harbour/presence",
                "fleet/gw-harbour/ack",
                // What only looks like a topic of one's own, or of nobody.
                "fleet/gw-harbour/senml/",
                "fleet//senml",
                "/fleet/gw-harbour/senml",
                "FLEET/gw-harbour/senml",
                "fleet/GW-HARBOUR/senml",
                "fleet/gw-ward/../gw-harbour/senml",
                "fleet/gw-harbour%2Fsenml",
                "fleet/gw-harbour /senml",
                "fleet/gw-ward/gw-harbour/senml",
                "$share/rimecast/fleet/gw-harbour/senml",
                "$SYS/fleet/gw-harbour/senml")) {
            // Retained or not, by turns: each spelling is a connection.
            boolean isRetained = topic.length() % 2 == 0;
            assertThatThrownBy(() -> sites.wardByCertificate(new MqttConnectionOptions())
                            .send(topic, TwoSites.hot("harbour-1", 30), isRetained))
                    .as("%s, retained: %s", topic, isRetained)
                    .isInstanceOf(MqttWay.Refused.class);
        }
        for (String topic : List.of("fleet/gw-harbour/ack", "fleet/+/ack", "fleet/#", "#", "fleet/gw-ward/#")) {
            assertThatThrownBy(() ->
                            sites.wardByCertificate(new MqttConnectionOptions()).listen(topic))
                    .as(
                            "%s: where the server has said that it knows no wildcards, the client library refuses them itself",
                            topic)
                    .isInstanceOfAny(MqttWay.Refused.class, IllegalArgumentException.class);
        }
        sites.wardByCertificate(new MqttConnectionOptions()).listen("fleet/gw-ward/ack");
    }

    @Test
    @Order(10)
    void tls_theCertificateOfTheWard_withTheNameOfTheHarbour_orItsWill() {
        MqttConnectionOptions named = new MqttConnectionOptions();
        named.setUserName("gw-harbour");
        assertThatThrownBy(() -> sites.wardByCertificate(named).publish("gw-harbour", TwoSites.hot("harbour-1", 31)))
                .isInstanceOf(MqttWay.Refused.class);
        for (String topic : List.of("fleet/gw-harbour/presence", "fleet/gw-harbour/senml", "fleet/gw-ward/senml")) {
            MqttConnectionOptions leaving = new MqttConnectionOptions();
            leaving.setWill(
                    topic,
                    new MqttMessage(
                            (topic.endsWith("presence") ? "offline" : TwoSites.hot("harbour-1", 31))
                                    .getBytes(StandardCharsets.UTF_8),
                            1,
                            true,
                            null));
            assertThatThrownBy(() -> sites.wardByCertificate(leaving).publish("gw-ward", TwoSites.hot("ward-1", 31)))
                    .as("a will for %s", topic)
                    .isInstanceOf(MqttWay.Refused.class);
        }
        // A certificate in the harbour's name that nobody has registered, with the right user name and without.
        MqttConnectionOptions stranger = new MqttConnectionOptions();
        stranger.setUserName("gw-harbour");
        for (MqttConnectionOptions options : List.of(stranger, new MqttConnectionOptions())) {
            assertThatThrownBy(() ->
                            sites.strangerByCertificate(options).publish("gw-harbour", TwoSites.hot("harbour-1", 31)))
                    .isInstanceOf(MqttWay.Refused.class);
        }
    }

    @Test
    @Order(11)
    void tls_theCertificateOfTheWard_namesTheHarboursMachineInAPackOfItsOwn_retainedToo() throws Exception {
        long rejectedBefore = sites.rejected();
        MqttWay way = sites.wardByCertificate(new MqttConnectionOptions());
        way.send("fleet/gw-ward/senml", TwoSites.hot("harbour-1", 32), false);
        way.send("fleet/gw-ward/senml", TwoSites.hot("harbour-1", 33), true);
        await().dontCatchUncaughtExceptions()
                .atMost(TwoSites.LIMIT)
                .until(() -> sites.rejected() == rejectedBefore + 2);
    }

    /** The secrets of a site's link and of a calendar open what they are for, and say nothing of another site. */
    @Test
    @Order(12)
    void links_ofTheWard_areNoKeysElsewhere_andShowNothingOfTheHarbour() {
        String calendar = TwoSites.JSON
                .readTree(sites.ward.post("/api/v1/calendars", "{}"))
                .path("path")
                .asString("");
        assertThat(sites.ward.get(calendar)).contains("BEGIN:VCALENDAR").doesNotContain("harbour");
        assertThat(sites.ward.triesWith(Optional.empty(), calendar, "{}").statusCode())
                .as("a calendar is read, never written")
                .isIn(404, 405);
        String calendarSecret = calendar.replaceAll(".*/|\\.ics$", "");
        assertThat(calendarSecret).hasSizeGreaterThan(40);
        for (String secret : List.of(calendarSecret, sites.wardLink)) {
            tryAll(
                    (path, body) -> sites.ward
                            .triesWith(Optional.of(secret), path, body)
                            .statusCode(),
                    401);
        }
        assertThat(sites.ward.get("/calendar/" + sites.wardLink + ".ics")).doesNotContain("BEGIN:VCALENDAR");
        for (String route :
                List.of("/api/v1/site-check", "/api/v1/site-check/answers", "/api/v1/site-check/weighed-harvests")) {
            assertThat(sites.ward
                            .triesWith(
                                    Optional.empty(),
                                    route,
                                    "{\"link\":\"" + calendarSecret
                                            + "\",\"check\":\"air-filter\",\"answer\":\"was-full\",\"kilograms\":\"2\"}")
                            .statusCode())
                    .as(route)
                    .isEqualTo(404);
        }
        HttpResponse<String> look = sites.ward.triesWith(
                Optional.empty(),
                "/api/v1/site-check",
                "{\"link\":\"" + sites.wardLink + "\",\"site\":\"harbour\",\"case\":\"" + sites.harbourCase + "\"}");
        assertThat(look.body()).doesNotContain("harbour");
        HttpResponse<String> weight = sites.ward.triesWith(
                Optional.empty(),
                "/api/v1/site-check/weighed-harvests",
                "{\"link\":\"" + sites.wardLink + "\",\"kilograms\":\"2\",\"machine\":\"harbour-1\"}");
        assertThat(weight.body()).doesNotContain("harbour");
    }

    @Test
    @Order(13)
    void claim_takesWhatTheMachinesGatewaySent_andNothingOfAnother() throws Exception {
        new UnclaimedMachine(sites).isClaimed();
    }

    @Test
    @Order(14)
    void gatewayItself_changesTheHarbour() throws Exception {
        TwoSites.Known then = sites.before;
        isToStay = false;
        sites.endpoint("gw-harbour", sites.harbourSecret).publish("gw-harbour", TwoSites.hot("harbour-1", 25));
        await().dontCatchUncaughtExceptions().atMost(TwoSites.LIMIT).untilAsserted(() -> {
            TwoSites.Known now = sites.known();
            assertThat(now.log()).hasSize(then.log().size() + 1);
            assertThat(now.state()).isNotEqualTo(then.state());
        });
        sites.administrator.post("/api/v1/alerts/" + sites.harbourAlert + "/notes", "{\"text\":\"seen\"}");
        assertThat(sites.known().rows()).isNotEqualTo(then.rows());
    }

    /** Every change that an alert, a machine or a case can be asked for. */
    private void tryAll(Attempt attempt, int status) {
        String alert = "/api/v1/alerts/" + sites.harbourAlert;
        Map<String, String> bodies = new TreeMap<>();
        for (String step : List.of("/acknowledge", "/reset", "/out-of-service", "/assign", "/part", "/shelve")) {
            bodies.put(
                    alert + step,
                    "{\"version\":1,\"note\":\"n\",\"reason\":\"r\",\"permittedBy\":\"p\",\"until\":\"2026-03-02T00:00:00Z\"}");
        }
        bodies.put(alert + "/notes", "{\"text\":\"t\"}");
        bodies.put(alert + "/answers", "{\"question\":\"air-filter\",\"answer\":\"was-full\"}");
        bodies.put("/api/v1/machines/harbour-1/out-of-service", "{\"reason\":\"r\",\"permittedBy\":\"p\"}");
        bodies.put("/api/v1/machines/harbour-1/events", "{\"event\":\"call\",\"detail\":\"no-ice\"}");
        bodies.put("/api/v1/sites/harbour/events", "{\"event\":\"call\",\"detail\":\"no-ice\"}");
        bodies.put(
                "/api/v1/machines/harbour-1/work-reports",
                "{\"id\":\"7d3c0f7e-8a57-4d0e-9a3e-0c7c2b9a1f01\",\"found\":\"scale\",\"done\":[{\"what\":\"descaled\"}]}");
        bodies.put("/api/v1/cases/" + sites.harbourCase + "/close", "{\"reason\":\"r\"}");
        bodies.put("/api/v1/cases/" + sites.harbourCase + "/site-links", "{}");
        bodies.forEach(
                (path, body) -> assertThat(attempt.status(path, body)).as(path).isEqualTo(status));
    }

    private interface Attempt {
        int status(String path, String body);
    }

    private String token(String body) {
        JsonNode made = TwoSites.JSON.readTree(sites.ward.post("/api/v1/tokens", body));
        String secret = made.path("secret").asString("");
        assertThat(secret).as(made.toString()).isNotEmpty();
        return secret;
    }
}
