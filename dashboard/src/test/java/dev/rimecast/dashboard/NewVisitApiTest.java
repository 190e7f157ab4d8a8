package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** A manager on the phone with a site makes a visit by the API. */
class NewVisitApiTest {
    private static final String TYPE = "application~1json";

    private final FakeServer server = FakeServer.start(FakeFleets::small);
    private Web manager = new Web(server);
    /** In its morning what the site has open is not too late yet, at whatever time of the day this runs. */
    private final LocalDate thursday = LocalDate.ofInstant(Instant.now().minus(Duration.ofHours(12)), ZoneOffset.UTC)
            .plusDays(3);

    @BeforeEach
    void manages() {
        manager = new Web(server, server.headers(server.account("Mara", Role.MANAGER, SiteScope.EVERY)));
    }

    @AfterEach
    void stop() {
        server.close();
    }

    private String body(UUID id, Map<String, ?> otherwise) {
        Map<String, Object> body = new HashMap<>(Map.of(
                "id",
                id,
                "site",
                "site-1",
                "machines",
                List.of("ice-0003"),
                "day",
                thursday,
                "from",
                "09:30",
                "to",
                "11:00",
                "engineer",
                "Samir",
                "reason",
                "Little ice in the evening.",
                "job",
                "J-1"));
        body.putAll(otherwise);
        body.values().removeIf(value -> value.equals(""));
        return JsonMapper.shared().writeValueAsString(body);
    }

    private List<VisitView> byHand() {
        return server.visits().list(SiteScope.EVERY, Filter.OPEN).stream()
                .filter(visit -> visit.request().isPresent())
                .toList();
    }

    @Test
    void make_isCreatedOnce_andFitsItsSchema() throws IOException {
        OpenApiDocument document = OpenApiDocument.read();
        UUID id = UUID.randomUUID();

        HttpResponse<String> first = manager.post("/api/v1/visits", body(id, Map.of()));
        HttpResponse<String> again = manager.post("/api/v1/visits", body(id, Map.of()));

        assertThat(first.statusCode()).as(first.body()).isEqualTo(201);
        assertThat(again.statusCode()).isEqualTo(200);
        assertThat(document.errors("/api/v1/visits", "post", "201", TYPE, first.body()))
                .isEmpty();
        assertThat(document.errors("/api/v1/visits", "post", "200", TYPE, again.body()))
                .isEmpty();
        JsonNode visit = Web.parse(first);
        assertThat(visit.path("state").stringValue()).isEqualTo("accepted");
        assertThat(visit.path("request").path("machines").get(0).stringValue()).isEqualTo("ice-0003");
        assertThat(visit.path("request").path("job").stringValue()).isEqualTo("J-1");
        assertThat(visit.path("history").get(0).path("who").stringValue()).isEqualTo("Mara");
        assertThat(byHand()).extracting(VisitView::id).containsExactly(id);
        HttpResponse<String> taken = manager.post("/api/v1/visits", body(id, Map.of("reason", "another")));
        assertThat(taken.statusCode()).isEqualTo(409);
        HttpResponse<String> later = manager.post("/api/v1/visits", body(id, Map.of("day", thursday.plusDays(1))));
        assertThat(later.statusCode()).isEqualTo(409);
        assertThat(later.body()).contains("This visit is made already, otherwise than asked for now");
        HttpResponse<String> back =
                manager.post("/api/v1/visits/" + id + "/release", "{\"sequence\":" + visit.path("sequence") + "}");
        assertThat(back.statusCode()).isEqualTo(409);
    }

    /** Pressed twice, both on their way at once. */
    @Test
    void make_byADoubleClick_isOneVisit() throws Exception {
        String body = body(UUID.randomUUID(), Map.of());
        Callable<Integer> press = () -> manager.post("/api/v1/visits", body).statusCode();
        ExecutorService threads = Executors.newFixedThreadPool(4);
        try {
            List<Integer> codes = threads.invokeAll(List.of(press, press, press, press)).stream()
                    .map(NewVisitApiTest::of)
                    .sorted()
                    .toList();
            assertThat(codes).containsExactly(200, 200, 200, 201);
        } finally {
            threads.shutdownNow();
        }
        assertThat(byHand()).hasSize(1);
    }

    private static int of(Future<Integer> code) {
        try {
            return code.get();
        } catch (Exception e) {
            throw new AssertionError(e);
        }
    }

    @ParameterizedTest
    @CsvSource({
        "id, '', id is missing",
        "site, '', site is missing",
        "reason, '', reason is missing",
        "engineer, '', engineer is missing",
        "day, someday, day must be a day",
        "from, nine, from must be a time",
        "to, 09:30, to must be later on the same day",
        "to, 08:00, to must be later on the same day",
    })
    void make_whatIsMissingOrWrong_isSaid(String member, String value, String said) {
        HttpResponse<String> answer = manager.post("/api/v1/visits", body(UUID.randomUUID(), Map.of(member, value)));

        assertThat(answer.statusCode()).isEqualTo(400);
        assertThat(Web.parse(answer).path("detail").stringValue()).startsWith(said);
        assertThat(byHand()).isEmpty();
    }

    @Test
    void make_forAMachineOfAnotherSite_isRefused() {
        String elsewhere = server.fleet().fleet().stream()
                .filter(row -> !row.site().equals("site-1"))
                .findFirst()
                .orElseThrow()
                .machine();

        HttpResponse<String> answer =
                manager.post("/api/v1/visits", body(UUID.randomUUID(), Map.of("machines", List.of(elsewhere))));

        assertThat(answer.statusCode()).isEqualTo(400);
        assertThat(Web.parse(answer).path("member").stringValue()).isEqualTo("machines");
        assertThat(byHand()).isEmpty();
    }

    @Test
    void make_byWhoSeesAnotherSiteOnly_findsNoSite() {
        Web other =
                new Web(server, server.headers(server.account("Rui", Role.MANAGER, SiteScope.of(Set.of("site-2")))));
        String effect = "/api/v1/sites/site-1/visit-effect?day=" + thursday + "&from=09:30&to=11:00&engineer=Samir";

        assertThat(other.post("/api/v1/visits", body(UUID.randomUUID(), Map.of()))
                        .statusCode())
                .isEqualTo(404);
        assertThat(other.get(effect).statusCode()).isEqualTo(404);
        assertThat(byHand()).isEmpty();
    }

    @Test
    void effect_fitsItsSchemaAndKeepsNothing() throws IOException {
        String path = "/api/v1/sites/site-1/visit-effect";

        HttpResponse<String> effect = manager.get(path + "?day=" + thursday + "&from=09:30&to=11:00&engineer=Samir");

        assertThat(effect.statusCode()).as(effect.body()).isEqualTo(200);
        assertThat(OpenApiDocument.read()
                        .errors("/api/v1/sites/{site}/visit-effect", "get", "200", TYPE, effect.body()))
                .isEmpty();
        assertThat(Web.parse(effect).path("joins").size()).isPositive();
        assertThat(byHand()).isEmpty();
        assertThat(manager.get(path + "?day=" + thursday + "&from=09:30&to=11:00")
                        .statusCode())
                .isEqualTo(400);
    }
}
