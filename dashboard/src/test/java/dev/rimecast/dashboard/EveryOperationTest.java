package dev.rimecast.dashboard;

import static dev.rimecast.dashboard.Operations.text;
import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.rules.Book;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.dashboard.fake.FakeBench;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.net.http.HttpResponse;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * Every operation of docs/openapi.yaml does over real HTTP what it is for, and what it answers fits its description. One that is
 * described and not done here fails the test by its name.
 */
class EveryOperationTest {
    private static final String API = "/api/v1";
    private static final String MACHINE = API + "/machines/{machine}";
    private static final String ALERT = API + "/alerts/{alert}";
    private static final String THRESHOLDS = API + "/thresholds";
    private static final String REASON = "{\"reason\":\"r\"}";

    private final Operations asked = new Operations();
    private FakeServer server;
    /** Nobody until the accounts are there. */
    private Web administrator;

    private Web nobody;

    @BeforeEach
    void start() {
        server = FakeServer.guarded(FakeFleets::small);
        nobody = new Web(server, List.of());
        administrator = nobody;
    }

    @AfterEach
    void stop() {
        server.close();
    }

    @Test
    void everyOperation_isDoneOnce_andAnswersAsItIsDescribed() throws Exception {
        new PeopleOperations(asked, server).all();
        administrator = new Web(server);
        asked.put("machine", "ice-0003");
        asked.put("site", "site-1");
        machine();
        alerts();
        siteByLink();
        visits();
        holdsAndCases();
        notices();
        rules();
        thresholds();
        questionsToThePast();
        marks();
        system();

        assertThat(asked.done())
                .as("done here, against what is described")
                .containsExactlyInAnyOrderElementsOf(OpenApiDocument.read().operations());
    }

    private void machine() {
        asked.put("now", Instant.now().toString());
        asked.put("report", UUID.randomUUID().toString());
        asked.put("photo", UUID.randomUUID().toString());
        String call = "{\"event\":\"call\",\"detail\":\"no-ice\"}";
        asked.post(administrator, MACHINE + "/events", call);
        asked.post(administrator, API + "/sites/{site}/events", call);
        asked.post(administrator, API + "/events/import", "time,machine,event\n{now},{machine},cleaned\n");
        asked.post(administrator, API + "/weather", "site,date,max_c\n{site},2026-07-01,31\n");
        asked.post(
                administrator,
                MACHINE + "/work-reports",
                "{\"id\":\"{report}\",\"found\":\"scale\",\"done\":[{\"what\":\"refrigerant-added\","
                        + "\"detail\":\"R290\",\"grams\":20}]}");
        String photo = API + "/work-reports/{report}/photos/{photo}";
        asked.done("PUT " + photo, administrator.put(asked.filled(photo), "image/jpeg", Jpegs.small()));
        asked.post(
                administrator,
                MACHINE + "/commissioning",
                AccessTest.commissioning(administrator, asked.filled("{machine}")));
        for (String path : List.of(
                "/temperatures",
                "/trace",
                "/care",
                "/proofs",
                "/cycles",
                "/events",
                "/weighed-harvests",
                "/work-reports",
                "/commissioning",
                "/care-record",
                "/care-record.csv")) {
            asked.get(administrator, MACHINE + path);
        }
        for (String path : List.of(
                "/fleet",
                "/sites",
                "/machines/{machine}",
                "/sites/{site}/events",
                "/sites/{site}/care-record",
                "/sites/{site}/care-record.csv",
                "/questions",
                "/work-reports/{report}",
                "/work-reports/{report}/photos/{photo}",
                "/refrigerant.csv",
                "/outcomes.csv",
                "/missed-calls.csv",
                "/figures",
                "/work-not-held")) {
            asked.get(administrator, API + path);
        }
        asked.stream(administrator, API + "/events");
    }

    /** The one that leads of a machine is asked for from now on, as it stands. */
    private AlertView leading(String machine) {
        AlertView alert = server.fleet().leading(machine);
        asked.put("alert", alert.finding().id().toString());
        asked.put("version", String.valueOf(alert.version()));
        asked.put("case", alert.caseId().map(UUID::toString).orElse(""));
        return alert;
    }

    private void alerts() {
        leading("ice-0003");
        asked.get(administrator, API + "/alerts");
        asked.get(administrator, ALERT);
        asked.get(administrator, ALERT + "/why");
        asked.get(administrator, ALERT + "/assignees");
        asked.post(administrator, ALERT + "/notes", "{\"text\":\"t\"}");
        asked.post(administrator, ALERT + "/answers", "{\"question\":\"air-filter\",\"answer\":\"clean\"}");
        leading("ice-0014");
        asked.post(administrator, ALERT + "/assign", "{\"version\":{version},\"to\":\"" + FakeServer.OPERATOR + "\"}");
        leading("ice-0014");
        asked.post(
                administrator,
                ALERT + "/shelve",
                "{\"version\":{version},\"reason\":\"r\",\"until\":\"2099-01-01T00:00:00Z\"}");
        leading("ice-0022");
        String other = asked.filled("{case}");
        leading("ice-0011");
        asked.post(
                administrator, ALERT + "/join", "{\"version\":{version},\"case\":\"" + other + "\",\"reason\":\"r\"}");
        leading("ice-0011");
        asked.post(administrator, ALERT + "/part", "{\"version\":{version},\"reason\":\"r\"}");
        leading("ice-0022");
        asked.post(
                administrator,
                ALERT + "/out-of-service",
                "{\"version\":{version},\"reason\":\"r\",\"permittedBy\":\"p\"}");
        reset();
    }

    /** Of what stays until somebody says that it is mended. */
    private void reset() {
        JsonNode latched = administrator
                .json(API + "/alerts?machine=ice-0020")
                .valueStream()
                .filter(alert -> alert.path("state").asString().startsWith("latched"))
                .findFirst()
                .orElseThrow();
        asked.put("alert", latched.path("id").asString());
        asked.put("version", latched.path("version").asString());
        asked.post(administrator, ALERT + "/reset", "{\"version\":{version},\"note\":\"mended\"}");
    }

    private void siteByLink() {
        leading("ice-0003");
        HttpResponse<String> made =
                asked.post(administrator, API + "/cases/{case}/site-links", "{\"machine\":\"{machine}\"}");
        asked.put("link", text(made, "link", "id"));
        asked.put("secret", text(made, "secret"));
        asked.get(administrator, API + "/site-links");
        asked.post(nobody, API + "/site-check", "{\"link\":\"{secret}\"}");
        asked.post(
                nobody,
                API + "/site-check/answers",
                "{\"link\":\"{secret}\",\"check\":\"air-filter\",\"answer\":\"clean\"}");
        asked.post(nobody, API + "/site-check/weighed-harvests", "{\"link\":\"{secret}\",\"kilograms\":\"1.25\"}");
        asked.post(administrator, API + "/site-links/{link}/revoke", "{}");
    }

    private void holdsAndCases() {
        HttpResponse<String> held =
                asked.post(administrator, MACHINE + "/out-of-service", "{\"reason\":\"r\",\"permittedBy\":\"p\"}");
        asked.put("hold", text(held, "id"));
        asked.get(administrator, API + "/holds");
        asked.post(administrator, API + "/holds/{hold}/end", REASON);

        leading("ice-0007");
        asked.post(administrator, ALERT + "/acknowledge", "{\"version\":{version},\"note\":\"n\"}");
        asked.get(administrator, API + "/cases");
        asked.get(administrator, API + "/cases/{case}");
        FakeFleets.end(server.fleet(), Instant.now());
        asked.post(administrator, API + "/cases/{case}/close", REASON);
    }

    /** The visit at that place of the plan is asked for from now on. */
    private void visit(int place) {
        asked.put(
                "visit",
                server.visits()
                        .list(SiteScope.EVERY, Visits.Filter.OPEN)
                        .get(place)
                        .id()
                        .toString());
    }

    private void onVisit(String what, String more) {
        asked.put("sequence", text(administrator.get(asked.filled(API + "/visits/{visit}")), "sequence"));
        asked.post(administrator, API + "/visits/{visit}/" + what, "{\"sequence\":{sequence}" + more + '}');
    }

    private void visits() {
        asked.put("later", LocalDate.now(ZoneOffset.UTC).plusDays(6).toString());
        asked.get(administrator, API + "/visits");
        visit(0);
        asked.get(administrator, API + "/visits/{visit}");
        asked.get(administrator, API + "/visits/{visit}/effect?day={later}");
        onVisit("accept", "");
        onVisit("move", ",\"day\":\"{later}\"");
        onVisit("release", "");
        visit(0);
        onVisit("accept", "");
        onVisit("done", "");
        visit(0);
        onVisit("accept", "");
        onVisit("cancel", ",\"reason\":\"r\"");
        asked.post(administrator, API + "/visits/plan", "{}");
        asked.get(administrator, API + "/sites/{site}/visit-effect?day={later}&from=09:30&to=11:00&engineer=Samir");
        asked.post(
                administrator,
                API + "/visits",
                "{\"id\":\"0a5f2c1e-2d5c-4a0e-9f4a-3f6f0c2b7a77\",\"site\":\"{site}\",\"machines\":[\"{machine}\"],"
                        + "\"day\":\"{later}\",\"from\":\"09:30\",\"to\":\"11:00\",\"engineer\":\"Samir\",\"reason\":\"r\"}");

        HttpResponse<String> made = asked.post(administrator, API + "/calendars", "{}");
        asked.put("calendar", text(made, "link", "id"));
        asked.put("name", text(made, "path").replaceFirst(".*/", ""));
        asked.get(administrator, API + "/calendars");
        asked.get(nobody, "/calendar/{name}");
        asked.delete(administrator, API + "/calendars/{calendar}");
    }

    private void notices() {
        JsonNode notices = Web.parse(asked.get(administrator, API + "/notices"));
        asked.put(
                "notice",
                notices.valueStream()
                        .filter(each -> each.path("state").asString().equals("failed"))
                        .findFirst()
                        .orElseThrow()
                        .path("id")
                        .asString());
        asked.get(administrator, API + "/notices/{notice}");
        asked.post(administrator, API + "/notices/{notice}/retry", "{}");
        JsonNode receivers = Web.parse(asked.get(administrator, API + "/receivers"));
        asked.put("receiver", receivers.get(0).path("name").asString());
        asked.post(administrator, API + "/receivers/{receiver}/test", "{}");
    }

    private void rules() {
        String book = API + "/rules/{book}";
        String text = JsonMapper.shared()
                .writeValueAsString(Map.of("text", Book.LIFE.standardText() + "# ours\n", "reason", "r"));
        asked.put("book", Book.LIFE.code());
        asked.put("version", "0");
        asked.get(administrator, API + "/rules");
        asked.get(administrator, book);
        asked.post(administrator, book + "/check", text.replace(",\"reason\":\"r\"", ""));
        asked.put(administrator, book, text, "If-Match", "\"0\"");
        asked.post(administrator, book + "/roll-back", "{\"to\":0,\"reason\":\"r\"}", "If-Match", "\"1\"");
        asked.get(administrator, book + "/versions");
        asked.get(administrator, book + "/versions/{version}");
    }

    private static String changes(double value) {
        return "{\"changes\":[{\"path\":\"" + FakeBench.RATE + "\",\"value\":" + value + "}],\"reason\":\"r\"}";
    }

    private void thresholds() {
        asked.get(administrator, THRESHOLDS);
        asked.put(administrator, THRESHOLDS, changes(0.5), "If-Match", "\"2\"");
        asked.post(administrator, THRESHOLDS + "/roll-back", "{\"to\":2,\"reason\":\"r\"}", "If-Match", "\"3\"");
        asked.put("number", "4");
        asked.get(administrator, THRESHOLDS + "/versions");
        asked.get(administrator, THRESHOLDS + "/versions/{number}");
        asked.post(administrator, THRESHOLDS + "/file", "{\"text\":\"version: firm-2-tuned\\n\"}");

        String trial = THRESHOLDS + "/trials/{id}";
        asked.put("id", text(asked.post(administrator, THRESHOLDS + "/trials", changes(0.5)), "id"));
        asked.get(administrator, THRESHOLDS + "/trials");
        asked.get(administrator, trial);
        asked.post(administrator, trial + "/promote", REASON, "If-Match", "\"4\"");
        asked.put("id", text(asked.post(administrator, THRESHOLDS + "/trials", changes(0.7)), "id"));
        asked.post(administrator, trial + "/drop", REASON);
    }

    private void questionsToThePast() {
        String runs = THRESHOLDS + "/runs";
        String question = "{\"kind\":\"back-test\",\"days\":30," + changes(0.6).substring(1);
        asked.post(administrator, runs, question);
        asked.put("id", text(asked.post(administrator, runs, question), "id"));
        asked.get(administrator, runs);
        asked.get(administrator, runs + "/{id}");
        asked.delete(administrator, runs + "/{id}");
        asked.put("id", text(asked.post(administrator, THRESHOLDS + "/effects", "{\"changes\":[]}"), "id"));
        asked.get(administrator, THRESHOLDS + "/effects/{id}");
        String fleet = THRESHOLDS + "/fleet";
        asked.post(administrator, fleet, "{\"days\":60,\"fitDays\":14}");
        asked.post(administrator, fleet, "{\"days\":60,\"fitDays\":14}");
        asked.get(administrator, fleet);
        asked.delete(administrator, fleet);
    }

    private void marks() {
        String span = "\"from\":\"2026-05-01T00:00:00Z\",\"to\":\"2026-05-02T00:00:00Z\"";
        HttpResponse<String> made =
                asked.post(administrator, API + "/marks", "{\"machine\":\"{machine}\"," + span + ",\"mark\":\"not\"}");
        asked.put("id", text(made, "id"));
        asked.get(administrator, API + "/marks");
        asked.get(administrator, API + "/marks.csv");
        asked.delete(administrator, API + "/marks/{id}");
    }

    private void system() {
        for (String path : List.of("", "/rejects", "/dead-letters", "/unclaimed")) {
            asked.get(administrator, API + "/system" + path);
        }
        asked.put("id", "0-7");
        asked.post(administrator, API + "/system/rejects/{id}/replay", "{}");
        asked.put("id", "6f9c8a3e-5d0b-3c86-9f0a-2f1d7c4b6a55");
        asked.post(administrator, API + "/system/dead-letters/{id}/replay", "{}");
        asked.post(administrator, API + "/system/backup", "{}");

        String credentials = API + "/gateways/{gateway}/credentials";
        asked.put("gateway", "gw-1");
        asked.post(administrator, credentials, "{}");
        asked.post(administrator, credentials + "/rotate", "{\"graceHours\":1}");
        asked.get(administrator, API + "/gateway-credentials");
        asked.post(administrator, credentials + "/revoke", "{}");

        asked.put("machine", "ice-9001");
        asked.post(
                administrator,
                API + "/claims",
                "{\"row\":{\"machine\":\"{machine}\",\"site\":\"{site}\",\"gateway\":\"{gateway}\"}}");
        asked.get(administrator, API + "/claims");
        asked.delete(administrator, API + "/claims/{machine}");

        for (String path : List.of(API + "/status", "/healthz", "/livez", "/readyz", "/metrics")) {
            asked.get(administrator, path);
        }
    }
}
