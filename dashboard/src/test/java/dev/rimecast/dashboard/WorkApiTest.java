package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.UUID;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tools.jackson.databind.JsonNode;

/** Reports of work over HTTP; what is done with them is tested at the database. */
class WorkApiTest {
    private static FakeServer server;
    private static Web engineer;

    @BeforeAll
    static void start() {
        server = FakeServer.start(FakeFleets::small);
        engineer = new Web(server, server.headers(Role.ENGINEER));
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    private static String body(UUID id, String more) {
        return "{\"id\":\"" + id + "\"," + more + '}';
    }

    @Test
    void report_twice_isStoredOnceAndListed() {
        UUID id = UUID.randomUUID();
        String body = body(id, """
                "found":"fan-weak","done":[{"what":"part-replaced","detail":"fan motor"},{"what":"cleaned"}],
                "charge":"warranty","job":"J-7","note":"bearing dry","by":"Pim","caseId":null""");

        HttpResponse<String> first = engineer.post("/api/v1/machines/ice-0007/work-reports", body);
        HttpResponse<String> again = engineer.post("/api/v1/machines/ice-0007/work-reports", body);

        assertThat(first.statusCode()).isEqualTo(201);
        assertThat(again.statusCode()).isEqualTo(200);
        assertThat(Web.parse(again).path("added").asBoolean()).isFalse();
        JsonNode work = Web.parse(first).path("work");
        assertThat(Web.parse(again).path("work")).isEqualTo(work);
        assertThat(work.path("origin").stringValue()).isEqualTo("wear");
        assertThat(work.path("enteredBy").stringValue()).isEqualTo("engineer");
        assertThat(engineer.json("/api/v1/work-reports/" + id)).isEqualTo(work);
        assertThat(engineer.json("/api/v1/machines/ice-0007/work-reports").get(0))
                .isEqualTo(work);
        assertThat(engineer.json("/api/v1/machines/ice-0007/events")
                        .path("events")
                        .size())
                .isEqualTo(3);
    }

    @Test
    void report_withTheIdOfAnother_isRefused() {
        UUID id = UUID.randomUUID();
        String body = body(id, "\"found\":\"nothing-found\",\"done\":[{\"what\":\"nothing\"}]");
        engineer.post("/api/v1/machines/ice-0007/work-reports", body);

        HttpResponse<String> other = engineer.post("/api/v1/machines/ice-0005/work-reports", body);

        assertThat(other.statusCode()).isEqualTo(400);
        assertThat(Web.parse(other).path("member").stringValue()).isEqualTo("id");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "\"done\":[{\"what\":\"cleaned\"}]|found is missing",
                "\"found\":\"gremlins\",\"done\":[{\"what\":\"cleaned\"}]|found must be one of [nothing-found",
                "\"found\":\"something-else\",\"done\":[{\"what\":\"cleaned\"}]|foundText is missing",
                "\"found\":\"scale\"|done must be a list",
                "\"found\":\"scale\",\"done\":[]|done is empty",
                "\"found\":\"scale\",\"done\":[{\"what\":\"danced\"}]|done[0].what must be one of [cleaned",
                "\"found\":\"scale\",\"done\":[{\"what\":\"cleaned\"},{\"what\":\"part-replaced\"}]|done[1].detail must say which",
                "\"found\":\"scale\",\"done\":[{\"what\":\"cleaned\"},7]|done[1] must be an object",
                "\"found\":\"low-charge\",\"done\":[{\"what\":\"refrigerant-added\",\"detail\":\"R290\",\"grams\":1.5}]|done[0].grams must be a whole",
                "\"found\":\"scale\",\"origin\":\"magic\",\"done\":[{\"what\":\"cleaned\"}]|origin must be one of [site",
                "\"found\":\"scale\",\"charge\":\"gift\",\"done\":[{\"what\":\"cleaned\"}]|charge must be one of [charge",
                "\"found\":\"scale\",\"visit\":\"today\",\"done\":[{\"what\":\"cleaned\"}]|visit must be a UUID",
                "\"found\":\"scale\",\"time\":\"2099-01-01T00:00:00Z\",\"done\":[{\"what\":\"cleaned\"}]|time is in the future",
            })
    void report_withAMistake_namesTheMember(String members, String says) {
        HttpResponse<String> answer =
                engineer.post("/api/v1/machines/ice-0007/work-reports", body(UUID.randomUUID(), members));

        assertThat(answer.statusCode()).isEqualTo(400);
        assertThat(Web.parse(answer).path("detail").stringValue()).startsWith(says);
    }

    @Test
    void report_withoutAnId_isRefused() {
        HttpResponse<String> answer = engineer.post(
                "/api/v1/machines/ice-0007/work-reports", "{\"found\":\"scale\",\"done\":[{\"what\":\"cleaned\"}]}");

        assertThat(answer.statusCode()).isEqualTo(400);
        assertThat(Web.parse(answer).path("detail").stringValue()).startsWith("id is missing");
    }

    @Test
    void careRecord_ofEventsAndReports_hasEachOnce() {
        engineer.post("/api/v1/machines/ice-0011/work-reports", body(UUID.randomUUID(), """
                "found":"scale","by":"Pim","job":"J-11","done":[{"what":"descaled"},{"what":"cleaned"},
                {"what":"first-batches-discarded"},{"what":"adjusted"}]"""));
        engineer.post(
                "/api/v1/machines/ice-0011/events", "{\"event\":\"lamp-changed\",\"by\":\"Kim\",\"job\":\"J-12\"}");

        HttpResponse<String> answer = engineer.get("/api/v1/machines/ice-0011/care-record.csv");

        assertThat(answer.headers().firstValue("Content-Disposition"))
                .contains("attachment; filename=\"care-ice-0011.csv\"");
        assertThat(answer.body().lines().skip(1).map(line -> line.substring(line.indexOf("ice-0011"))))
                .containsExactly(
                        "ice-0011,site-3,cleaned,descaled,Pim,J-11,engineer",
                        "ice-0011,site-3,first-batches-discarded,,Pim,J-11,engineer",
                        "ice-0011,site-3,lamp-changed,,Kim,J-12,engineer");
        assertThat(engineer.json("/api/v1/machines/ice-0011/care-record").size())
                .isEqualTo(3);
    }

    /** Food safety inspectors ask of the premises, not of one machine (common practice). */
    @Test
    void careRecord_ofASite_hasAllItsMachines_andNoneOfAnother_inTheTimeThatIsAskedFor() {
        at("ice-0013", "\"event\":\"cleaned\",\"time\":\"" + ago(30) + "\",\"by\":\"Pim\"");
        at("ice-0014", "\"event\":\"water-filter-changed\",\"time\":\"" + ago(10) + "\",\"by\":\"Kim\"");
        at("ice-0014", "\"event\":\"call\",\"detail\":\"no-ice\",\"time\":\"" + ago(9) + "\"");
        at("ice-0020", "\"event\":\"cleaned\",\"time\":\"" + ago(8) + "\"");
        assertThat(engineer.post(
                                "/api/v1/sites/site-4/events",
                                "{\"event\":\"cleaned\",\"by\":\"Lin\",\"time\":\"" + ago(25) + "\"}")
                        .statusCode())
                .isEqualTo(201);
        String path = "/api/v1/sites/site-4/care-record";

        HttpResponse<String> table = engineer.get(path + ".csv");

        assertThat(table.headers().firstValue("Content-Disposition"))
                .contains("attachment; filename=\"care-site-4.csv\"");
        assertThat(table.body().lines().map(line -> line.replaceFirst("^[^,]*,", "")))
                .containsExactly(
                        "machine,site,what,detail,by,job,entered_by",
                        "ice-0013,site-4,cleaned,,Pim,,engineer",
                        ",site-4,cleaned,,Lin,,engineer",
                        "ice-0014,site-4,water-filter-changed,,Kim,,engineer");
        assertThat(engineer.json(path)
                        .valueStream()
                        .map(line -> line.path("machine").asString("whole site")))
                .containsExactly("ice-0013", "whole site", "ice-0014");
        assertThat(engineer.json(path + "?from=" + ago(20))
                        .valueStream()
                        .map(line -> line.path("by").stringValue()))
                .containsExactly("Kim");
        assertThat(engineer.json(path + "?to=" + ago(20))
                        .valueStream()
                        .map(line -> line.path("by").stringValue()))
                .containsExactly("Pim", "Lin");
        assertThat(engineer.json("/api/v1/machines/ice-0014/care-record?to=" + ago(20)))
                .as("nobody knows whether it stood there then")
                .isEmpty();
        assertThat(engineer.get(path + "?from=yesterday").statusCode()).isEqualTo(400);
        assertThat(engineer.get("/api/v1/sites/site-77/care-record").statusCode())
                .isEqualTo(404);
    }

    private void at(String machine, String members) {
        assertThat(engineer.post("/api/v1/machines/" + machine + "/events", '{' + members + '}')
                        .statusCode())
                .isEqualTo(201);
    }

    private static String ago(int days) {
        return Instant.now()
                .minus(Duration.ofDays(days))
                .truncatedTo(ChronoUnit.SECONDS)
                .toString();
    }

    @Test
    void outcomesAndMissedCalls_areTablesOfTheContract() {
        engineer.post(
                "/api/v1/machines/ice-0013/work-reports",
                body(UUID.randomUUID(), "\"found\":\"drain-blocked\",\"done\":[{\"what\":\"adjusted\"}]"));

        assertThat(engineer.get("/api/v1/outcomes.csv").body().lines())
                .startsWith("machine,cause,onset,stopped,deadline,proof")
                .contains("ice-0013,drain-blocked,,,,not-held");
        assertThat(engineer.get("/api/v1/missed-calls.csv").body().lines())
                .first()
                .isEqualTo("call,time,site,machine,complaint,was_silent,by,job,case");
        assertThat(engineer.get("/api/v1/missed-calls.csv").body())
                .contains(",site-2,,no-ice,1,\"Bar, upstairs\",J-8,");
        assertThat(engineer.get("/api/v1/missed-calls.csv?to=2020-01-01T00:00:00Z")
                        .body()
                        .lines())
                .hasSize(1);
        assertThat(engineer.get("/api/v1/missed-calls.csv?from=noon").statusCode())
                .isEqualTo(400);
    }

    @Test
    void commissioning_withAnItemLeftOut_namesItAndOnceWhole_isStoredOnce() {
        String whole = AccessTest.commissioning(engineer, "ice-0005");
        String without = whole.replace("{\"item\":\"isolator\",\"result\":\"ok\"},", "");
        String bad = whole.replace(
                "{\"item\":\"isolator\",\"result\":\"ok\"}", "{\"item\":\"isolator\",\"result\":\"bad\"}");

        HttpResponse<String> refused = engineer.post("/api/v1/machines/ice-0005/commissioning", without);
        assertThat(refused.statusCode()).isEqualTo(400);
        assertThat(Web.parse(refused).path("detail").stringValue()).contains("leave out isolator");
        assertThat(Web.parse(engineer.post("/api/v1/machines/ice-0005/commissioning", bad))
                        .path("detail")
                        .stringValue())
                .startsWith("answers[1].result must be one of [ok, not-ok");

        assertThat(engineer.post("/api/v1/machines/ice-0005/commissioning", whole)
                        .statusCode())
                .isEqualTo(201);
        assertThat(engineer.post("/api/v1/machines/ice-0005/commissioning", whole)
                        .statusCode())
                .isEqualTo(200);
        JsonNode records =
                engineer.json("/api/v1/machines/ice-0005/commissioning").path("records");
        assertThat(records.size()).isEqualTo(1);
        assertThat(records.get(0).path("good").asBoolean()).isTrue();
        assertThat(records.get(0).path("answers").get(1).path("check").stringValue())
                .startsWith("Isolator: Within reach");
    }

    @Test
    void alert_ofAMachineWhoseWorkHasNotHeld_saysSoAndSoDoesTheList() {
        String lost = "ice-0003";
        JsonNode all = engineer.json("/api/v1/work-not-held");
        assertThat(all.size()).isEqualTo(1);
        assertThat(all.get(0).path("machine").stringValue()).isEqualTo(lost);

        JsonNode open = engineer.json("/api/v1/alerts?machine=" + lost);
        JsonNode alert =
                engineer.json("/api/v1/alerts/" + open.get(0).path("id").stringValue());
        assertThat(alert.path("notHeld").get(0).path("summary").stringValue()).startsWith("It is back");
        JsonNode others = engineer.json("/api/v1/alerts");
        for (JsonNode other : others) {
            if (!lost.equals(other.path("machine").stringValue(""))) {
                assertThat(engineer.json("/api/v1/alerts/" + other.path("id").stringValue())
                                .path("notHeld")
                                .size())
                        .isZero();
            }
        }
        assertThat(engineer.json("/api/v1/work-not-held?to=2020-01-01T00:00:00Z")
                        .size())
                .isZero();
    }

    @Test
    void figures_ofTheLastYear_eachHaveTheirDefinition() {
        engineer.post(
                "/api/v1/machines/ice-0015/work-reports",
                body(UUID.randomUUID(), "\"found\":\"nothing-found\",\"done\":[{\"what\":\"nothing\"}]"));

        JsonNode figures = engineer.json("/api/v1/figures");

        assertThat(figures.path("figures").size()).isEqualTo(6);
        JsonNode nothing = figures.path("figures").get(2);
        assertThat(nothing.path("figure").stringValue()).isEqualTo("nothing-found");
        assertThat(nothing.path("count").asInt())
                .isBetween(1, nothing.path("of").asInt());
        JsonNode hours = figures.path("figures").get(3);
        assertThat(hours.path("unit").stringValue()).isEqualTo("h");
        assertThat(hours.path("count").asInt()).isEqualTo(20);
        assertThat(nothing.path("definition").stringValue()).startsWith("Of all reports of work");
        assertThat(engineer.get("/api/v1/figures?from=2026-01-02T00:00:00Z&to=2026-01-01T00:00:00Z")
                        .statusCode())
                .isEqualTo(400);
    }

    @Test
    void refrigerant_ofAllReports_isATableOfWhoWhenWhichAndHowMuch() {
        engineer.post("/api/v1/machines/ice-0009/work-reports", body(UUID.randomUUID(), """
                "found":"low-charge","by":"Pim, certified","certificate":"F-1","job":"J-9","done":[
                {"what":"refrigerant-recovered","detail":"R404A","grams":310},
                {"what":"refrigerant-added","detail":"R404A","grams":400}]"""));

        HttpResponse<String> answer = engineer.get("/api/v1/refrigerant.csv?machine=ice-0009");

        assertThat(answer.headers().firstValue("Content-Type")).contains("text/csv; charset=utf-8");
        assertThat(answer.headers().firstValue("Content-Disposition"))
                .contains("attachment; filename=\"refrigerant.csv\"");
        assertThat(answer.body().lines())
                .hasSize(3)
                .first()
                .isEqualTo("time,site,machine,refrigerant,added_g,recovered_g,by,certificate,job,entered_by,report");
        assertThat(answer.body()).contains(",ice-0009,R404A,,310,\"Pim, certified\",F-1,J-9,engineer,");
        assertThat(answer.body()).contains(",ice-0009,R404A,400,,\"Pim, certified\",F-1,J-9,engineer,");
    }
}
