package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tools.jackson.databind.JsonNode;

/** Reports and imports over HTTP; what is done with them is tested at the database. */
class EventsApiTest {
    private static final Instant NOW = Instant.now().truncatedTo(ChronoUnit.SECONDS);
    private static FakeServer server;
    private static Web web;

    @BeforeAll
    static void start() {
        server = FakeServer.start(FakeFleets::small);
        web = new Web(server);
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    @Test
    void report_ofAMachine_isAddedOnceAndListedFirst() {
        String body =
                "{\"event\":\"visit\",\"detail\":\"airflow-restricted\",\"by\":\"Pim\",\"job\":\"J-1\",\"time\":\""
                        + NOW + "\"}";

        HttpResponse<String> first = web.post("/api/v1/machines/ice-0007/events", body);
        HttpResponse<String> again = web.post("/api/v1/machines/ice-0007/events", body);

        assertThat(first.statusCode()).isEqualTo(201);
        assertThat(Web.parse(first).path("added").asBoolean()).isTrue();
        assertThat(again.statusCode()).isEqualTo(200);
        assertThat(Web.parse(again).path("added").asBoolean()).isFalse();
        assertThat(Web.parse(again).path("event")).isEqualTo(Web.parse(first).path("event"));
        JsonNode newest =
                web.json("/api/v1/machines/ice-0007/events").path("events").get(0);
        assertThat(newest).isEqualTo(Web.parse(first).path("event"));
        assertThat(newest.path("enteredBy").stringValue()).isEqualTo("administrator");
    }

    @Test
    void report_withoutATime_isOfNow() {
        HttpResponse<String> answer =
                web.post("/api/v1/sites/site-2/events", "{\"event\":\"call\",\"detail\":\"noise\"}");

        Instant at = Instant.parse(Web.parse(answer).path("event").path("time").stringValue());
        assertThat(Duration.between(NOW, at)).isBetween(Duration.ZERO, Duration.ofMinutes(5));
        assertThat(Web.parse(answer).path("event").has("machine")).isFalse();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "{\"event\":\"call\",\"detail\":\"cold\"}|detail of a call must be one of no-ice",
                "{\"event\":\"site-answer\",\"detail\":\"air-filter:fine\"}|detail has no answer to air-filter, which are was-full",
                "{\"event\":\"site-answer\",\"detail\":\"air-filtre:clean\"}|detail names no question",
                "{\"event\":\"party\"}|event must be one of [call",
                "{\"detail\":\"no-ice\"}|event is missing",
                "{\"event\":\"visit\",\"time\":\"noon\"}|time must be a time such as",
                "{\"event\":\"visit\",\"time\":\"2099-01-01T00:00:00Z\"}|time is in the future",
                "{\"event\":\"visit\",\"time\":\"2020-01-01T00:00:00Z\"}|time is more than 60 days ago",
            })
    void report_withAMistake_saysWhatIsWrong(String body, String says) {
        HttpResponse<String> answer = web.post("/api/v1/machines/ice-0007/events", body);

        assertThat(answer.statusCode()).isEqualTo(400);
        assertThat(Web.parse(answer).path("detail").stringValue()).contains(says);
    }

    @Test
    void answerOfASite_isListedInWords_andItsQuestionsCanBeAskedFor() {
        JsonNode question = web.json("/api/v1/questions")
                .valueStream()
                .filter(each -> each.path("question").asString().equals("air-filter"))
                .findFirst()
                .orElseThrow();
        assertThat(question.path("answers")
                        .valueStream()
                        .map(answer -> answer.path("answer").asString()))
                .containsExactly("was-full", "clean", "none-there", "cannot-tell");

        HttpResponse<String> answer = web.post(
                "/api/v1/machines/ice-0007/events",
                "{\"event\":\"site-answer\",\"detail\":\"air-filter:clean\",\"by\":\"The bar\",\"job\":\"J-31\"}");
        HttpResponse<String> words = web.post(
                "/api/v1/sites/site-1/events", "{\"event\":\"site-answer\",\"detail\":\"We are busy: come later\"}");
        HttpResponse<String> ofNone =
                web.post("/api/v1/sites/site-1/events", "{\"event\":\"site-answer\",\"detail\":\"air-filter:clean\"}");

        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
        assertThat(Web.parse(answer).path("event").path("text").asString()).isEqualTo("Air filter: it is clean");
        assertThat(words.statusCode()).as(words.body()).isEqualTo(201);
        assertThat(Web.parse(words).path("event").has("text")).isFalse();
        assertThat(ofNone.statusCode()).isEqualTo(400);
        assertThat(Web.parse(ofNone).path("detail").stringValue()).contains("machine is missing");
    }

    @Test
    void list_inPages_hasEachEventOnceNewestFirst() {
        for (int i = 0; i < 5; i++) {
            web.post(
                    "/api/v1/machines/ice-0011/events",
                    "{\"event\":\"cleaned\",\"time\":\"" + NOW.minusSeconds(i) + "\"}");
        }
        List<String> times = new ArrayList<>();
        String next = "";
        do {
            JsonNode page = web.json("/api/v1/machines/ice-0011/events?limit=2" + next);
            assertThat(page.path("events").size()).isLessThanOrEqualTo(2);
            page.path("events").forEach(event -> times.add(event.path("time").stringValue()));
            next = page.has("next") ? "&before=" + page.path("next").asLong() : "";
        } while (!next.isEmpty());

        assertThat(times.subList(0, 5))
                .containsExactlyElementsOf(List.of(0, 1, 2, 3, 4).stream()
                        .map(i -> NOW.minusSeconds(i).toString())
                        .toList());
        assertThat(times).doesNotHaveDuplicates();
    }

    @Test
    void import_withBadRows_takesTheGoodOnesAndTellsEachLine() {
        String csv = "job,time,machine,event,detail\n"
                + "J-7," + NOW + ",ice-0003,cleaned,\n"
                + "J-8," + NOW + ",ice-0003,polished,\n"
                + "J-9,yesterday,,call,cold\n"
                + "J-10," + NOW + ",ice-9999,cleaned,\n"
                + "J-11,2020-01-01T00:00:00Z,ice-0003,cleaned,\n"
                + "J-12," + NOW + ",ice-0003,part-replaced,\"fan, condenser\"\n";

        JsonNode first = Web.parse(send(csv, "text/csv"));
        JsonNode again = Web.parse(send(csv, "text/csv; charset=utf-8"));

        assertThat(first.path("added").asInt()).isEqualTo(2);
        assertThat(first.path("known").asInt()).isZero();
        assertThat(first.path("refused").asInt()).isEqualTo(4);
        assertThat(first.path("rows").asInt()).isEqualTo(6);
        assertThat(first.path("problems")
                        .valueStream()
                        .map(p ->
                                p.path("line").asInt() + " " + p.path("column").stringValue()))
                .containsExactly("3 event", "4 detail", "4 time", "5 ", "6 time");
        assertThat(again.path("added").asInt()).isZero();
        assertThat(again.path("known").asInt()).isEqualTo(2);
    }

    @Test
    void import_whichIsNone_isRefusedAsAWhole() {
        HttpResponse<String> header = send("when,machine\nx,y\n", "text/csv");
        assertThat(header.statusCode()).isEqualTo(400);
        assertThat(Web.parse(header).path("type").stringValue()).isEqualTo("urn:rimecast:problem:bad-csv");
        assertThat(Web.parse(header).path("problems").size()).isEqualTo(3);
        assertThat(send("{}", "application/json").statusCode()).isEqualTo(415);
        assertThat(send("time,event\n" + "x".repeat(4 * 1024 * 1024), "text/csv")
                        .statusCode())
                .isEqualTo(413);
    }

    @Test
    void import_largerThanOtherBodies_isTaken() {
        StringBuilder csv = new StringBuilder("time,machine,event,by\n");
        for (int i = 0; i < 2_000; i++) {
            csv.append(NOW.minusSeconds(60L * i))
                    .append(",ice-0014,cleaned,")
                    .append("x".repeat(40))
                    .append('\n');
        }
        JsonNode answer = Web.parse(send(csv.toString(), "text/csv"));

        assertThat(csv.length()).isGreaterThan(64 * 1024);
        assertThat(answer.path("added").asInt()).isEqualTo(2_000);
    }

    @Test
    void weather_goodRowsGoIn_eachBadOneIsToldWithItsLine() {
        String csv = """
                site,date,max_c
                site-1,2026-07-02,33
                site-1,2026-07-01,31.5
                site-1,2026-07-03,hot
                nowhere,2026-07-01,20
                site-1,2026-07-01,30
                """;

        JsonNode answer = Web.parse(send("/api/v1/weather", csv, "text/csv"));

        assertThat(answer.path("rows").asInt()).isEqualTo(5);
        assertThat(answer.path("taken").asInt()).isEqualTo(2);
        assertThat(answer.path("sites").asInt()).isEqualTo(1);
        assertThat(answer.path("refused").asInt()).isEqualTo(3);
        assertThat(answer.path("problems")
                        .valueStream()
                        .map(p ->
                                p.path("line").asInt() + " " + p.path("column").stringValue()))
                .containsExactly("4 max_c", "5 site", "6 date");
    }

    @Test
    void weather_whichIsNone_isRefusedAsAWhole() {
        assertThat(send("/api/v1/weather", "date,warmest\n2026-07-01,20\n", "text/csv")
                        .statusCode())
                .isEqualTo(400);
        assertThat(send("/api/v1/weather", "{}", "application/json").statusCode())
                .isEqualTo(415);
    }

    private static HttpResponse<String> send(String body, String type) {
        return send("/api/v1/events/import", body, type);
    }

    private static HttpResponse<String> send(String path, String body, String type) {
        return web.send(web.request(path)
                .header("Content-Type", type)
                .POST(BodyPublishers.ofString(body))
                .build());
    }
}
