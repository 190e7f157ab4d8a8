package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeBench;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.io.IOException;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tools.jackson.databind.JsonNode;

class ThresholdsApiTest {
    private static final String ROOT = "/api/v1/thresholds";

    private FakeServer server;
    private Web analyst;
    private OpenApiDocument document;

    @BeforeEach
    void start() {
        server = FakeServer.guarded(FakeFleets::small);
        analyst = new Web(server, server.headers(Role.ANALYST));
        document = OpenApiDocument.read();
    }

    @AfterEach
    void stop() {
        server.close();
    }

    private static String changes(String path, double value) {
        return "{\"changes\":[{\"path\":\"" + path + "\",\"value\":" + value + "}],\"reason\":\"calmer nights\"}";
    }

    private HttpResponse<String> send(String method, String path, String body, int seen) {
        try {
            return analyst.client()
                    .send(
                            analyst.request(path)
                                    .header("Content-Type", "application/json")
                                    .header("If-Match", "\"" + seen + '"')
                                    .method(method, BodyPublishers.ofString(body))
                                    .build(),
                            BodyHandlers.ofString());
        } catch (IOException | InterruptedException e) {
            throw new IllegalStateException(e);
        }
    }

    private void fits(HttpResponse<String> answer, String template, String method, int status) {
        assertThat(answer.statusCode()).as(answer.body()).isEqualTo(status);
        String type = status < 400 ? "application~1json" : "application~1problem+json";
        assertThat(document.errors(template, method, String.valueOf(status), type, answer.body()))
                .isEmpty();
    }

    @Test
    void numbersAreChanged_overtakenChangesAreTold_andVersionsAreTakenBack() {
        HttpResponse<String> before = analyst.get(ROOT);
        fits(before, ROOT, "get", 200);
        assertThat(before.headers().firstValue("ETag")).contains("\"2\"");

        fits(send("PUT", ROOT, changes(FakeBench.RATE, 0.5), 2), ROOT, "put", 200);
        JsonNode newest = analyst.json(ROOT + "/versions").get(0);
        assertThat(newest.path("who").stringValue()).isEqualTo("analyst");
        assertThat(newest.path("why").stringValue()).isEqualTo("calmer nights");
        assertThat(newest.path("changes").get(0).path("after").doubleValue()).isEqualTo(0.5);

        fits(send("PUT", ROOT, changes(FakeBench.RATE, 0.7), 2), ROOT, "put", 412);
        fits(send("PUT", ROOT, changes(FakeBench.RATE, 0.5), 3), ROOT, "put", 409);
        fits(send("PUT", ROOT, changes("change.moon", 1), 3), ROOT, "put", 422);
        fits(
                send("PUT", ROOT, "{\"changes\":[{\"path\":\"x\",\"value\":\"many\"}],\"reason\":\"r\"}", 3),
                ROOT,
                "put",
                400);
        String rollBack = ROOT + "/roll-back";
        fits(send("POST", rollBack, "{\"to\":9,\"reason\":\"r\"}", 3), rollBack, "post", 404);
        fits(send("POST", rollBack, "{\"to\":2,\"reason\":\"worse\"}", 3), rollBack, "post", 200);
        fits(analyst.get(ROOT + "/versions"), ROOT + "/versions", "get", 200);
        fits(analyst.get(ROOT + "/versions/4"), ROOT + "/versions/{number}", "get", 200);
        assertThat(analyst.json(ROOT + "/versions/4")
                        .path("version")
                        .path("restores")
                        .asInt())
                .isEqualTo(2);
    }

    @Test
    void trial_runsAlone_andIsPromotedOrDropped() {
        String trials = ROOT + "/trials";
        fits(analyst.post(trials, changes(FakeBench.RATE, 0.5)), trials, "post", 200);
        fits(analyst.post(trials, changes(FakeBench.RATE, 0.6)), trials, "post", 409);
        fits(analyst.get(trials), trials, "get", 200);
        assertThat(analyst.json(trials)
                        .get(0)
                        .path("result")
                        .path("differences")
                        .size())
                .isZero();
        fits(analyst.get(trials + "/1"), trials + "/{id}", "get", 200);
        assertThat(analyst.json(trials + "/1")
                        .path("result")
                        .path("differences")
                        .size())
                .isEqualTo(4);

        fits(send("POST", trials + "/1/promote", "{\"reason\":\"calm\"}", 2), trials + "/{id}/promote", "post", 200);
        fits(analyst.post(trials + "/1/drop", "{\"reason\":\"r\"}"), trials + "/{id}/drop", "post", 404);
        assertThat(analyst.json(ROOT + "/versions").get(0).path("trial").asInt())
                .isEqualTo(1);
        fits(analyst.post(trials, changes(FakeBench.RATE, 0.7)), trials, "post", 200);
        fits(analyst.post(trials + "/2/drop", "{\"reason\":\"noisier\"}"), trials + "/{id}/drop", "post", 200);
    }

    @Test
    void past_isAskedAndCancelled() {
        String runs = ROOT + "/runs";
        String question = "{\"kind\":\"back-test\",\"days\":30,"
                + changes(FakeBench.RATE, 0.5).substring(1);
        fits(analyst.post(runs, question), runs, "post", 200);
        fits(analyst.get(runs + "/1"), runs + "/{id}", "get", 200);
        JsonNode byMachine = analyst.json(runs + "/1").path("backTest").path("byMachine");
        assertThat(byMachine.get(0).path("plots").path("machine").stringValue()).isEqualTo("ice-0003");
        assertThat(byMachine.get(0).path("candidate").path("earlier").asInt()).isEqualTo(1);
        assertThat(byMachine.get(2).has("plots"))
                .as("a call that names no machine")
                .isFalse();
        fits(analyst.post(runs, question), runs, "post", 200);
        assertThat(analyst.json(runs + "/2")
                        .path("progress")
                        .path("secondsLeft")
                        .asInt())
                .isEqualTo(95);
        fits(
                analyst.post(
                        runs,
                        "{\"kind\":\"sweep\",\"days\":30,\"path\":\"" + FakeBench.RATE
                                + "\",\"values\":[0.2,0.5],\"costVisit\":150,\"costStop\":600,\"costLate\":1}"),
                runs,
                "post",
                200);
        fits(analyst.get(runs + "/3"), runs + "/{id}", "get", 200);
        fits(
                analyst.post(
                        runs,
                        "{\"kind\":\"sweep\",\"days\":30,\"path\":\"" + FakeBench.RATE
                                + "\",\"values\":[0.2,0.5],\"secondPath\":\"change.clear_hours\",\"secondValues\":[24,36,72],"
                                + "\"costVisit\":150,\"costStop\":600,\"costLate\":1}"),
                runs,
                "post",
                200);
        fits(analyst.get(runs + "/4"), runs + "/{id}", "get", 200);
        assertThat(analyst.json(runs + "/4").path("sweep").path("second").stringValue())
                .isEqualTo("change.clear_hours");
        assertThat(analyst.json(runs + "/4").path("sweep").path("points")).hasSize(1 + 2 * 3);
        fits(analyst.get(runs), runs, "get", 200);
        assertThat(send("DELETE", runs + "/2", "{}", 0).statusCode()).isEqualTo(204);
        assertThat(send("DELETE", runs + "/2", "{}", 0).statusCode()).isEqualTo(404);
        assertThat(analyst.json(runs + "/2").path("state").stringValue()).isEqualTo("cancelled");
    }

    @Test
    void movedNumbers_showWhatTheyDo_ofSomeSitesAndThenOfAll() {
        String effects = ROOT + "/effects";
        server.bench().ready(false);
        fits(analyst.post(effects, "{\"changes\":[]}"), effects, "post", 200);
        assertThat(analyst.json(effects + "/1")
                        .path("progress")
                        .path("secondsLeft")
                        .asInt())
                .isEqualTo(95);
        server.bench().ready(true);
        HttpResponse<String> begun = analyst.post(
                effects,
                "{\"changes\":[{\"path\":\"" + FakeBench.RATE
                        + "\",\"value\":0.5},{\"path\":\"limits.condensing_celsius\",\"value\":60}]}");
        fits(begun, effects, "post", 200);
        JsonNode first = Web.parse(begun);
        assertThat(first.path("state").stringValue()).isEqualTo("running");
        assertThat(first.path("seen").path("machines").asInt())
                .isLessThan(first.path("seen").path("allMachines").asInt());
        assertThat(first.path("limits").get(0).path("candidateCycles").asInt()).isEqualTo(31);
        for (int looks = 0; looks < 3; looks++) {
            fits(analyst.get(effects + "/2"), effects + "/{id}", "get", 200);
        }
        assertThat(analyst.json(effects + "/2").path("state").stringValue()).isEqualTo("done");
        fits(analyst.get(effects + "/9"), effects + "/{id}", "get", 404);
        fits(analyst.post(effects, "{\"changes\":[{\"path\":\"change.moon\",\"value\":1}]}"), effects, "post", 422);
        Web manager = new Web(server, server.headers(Role.MANAGER));
        assertThat(manager.post(effects, "{\"changes\":[]}").statusCode()).isEqualTo(403);
    }

    @Test
    void policyFromAFile_isHeldAgainstTheOneInForce_orSaysWhichLineIsWrong() {
        String file = ROOT + "/file";
        HttpResponse<String> read = analyst.post(file, "{\"text\":\"version: firm-2-tuned\\n\"}");
        fits(read, file, "post", 200);
        assertThat(Web.parse(read).path("ofAll").get(0).path("after").doubleValue())
                .isEqualTo(0.5);
        HttpResponse<String> wrong = analyst.post(file, "{\"text\":\"verzion: x\"}");
        fits(wrong, file, "post", 422);
        assertThat(Web.parse(wrong).path("problems").get(1).path("line").asInt())
                .isEqualTo(3);
        fits(analyst.post(file, "{}"), file, "post", 400);
        fits(analyst.post(file, "{\"text\":\"version: " + "x".repeat(66_000) + "\"}"), file, "post", 413);
        fits(analyst.post(file, "{\"text\":\"" + "x".repeat(400_000) + "\"}"), file, "post", 413);
        Web manager = new Web(server, server.headers(Role.MANAGER));
        assertThat(manager.post(file, "{\"text\":\"version: x\"}").statusCode()).isEqualTo(403);
    }

    @Test
    void fleet_isLookedAtByWhoeverSeesIt_andKeptApartFromQuestionsAboutNumbers() {
        String fleet = ROOT + "/fleet";
        String question = "{\"days\":60,\"fitDays\":14}";
        Web manager = new Web(server, server.headers(Role.MANAGER));
        fits(manager.get(fleet), fleet, "get", 200);
        assertThat(manager.json(fleet).isEmpty()).isTrue();

        fits(manager.post(fleet, question), fleet, "post", 200);
        fits(manager.get(fleet), fleet, "get", 200);
        JsonNode found = manager.json(fleet).path("answered").path("found");
        assertThat(found.path("unfit").get(0).path("machine").stringValue()).isEqualTo("ice-0003");
        assertThat(found.path("parts").size()).isEqualTo(5);
        assertThat(manager.json(fleet).path("newest").path("found").isMissingNode())
                .isTrue();

        fits(analyst.post(fleet, question), fleet, "post", 200);
        assertThat(Web.parse(manager.post(fleet, question)).path("id").asInt())
                .as("the one that is under way")
                .isEqualTo(2);
        JsonNode both = analyst.json(fleet);
        assertThat(both.path("newest").path("progress").path("secondsLeft").asInt())
                .isEqualTo(40);
        assertThat(both.path("answered").path("id").asInt())
                .as("stays until there is another")
                .isEqualTo(1);
        assertThat(analyst.json(ROOT + "/runs").size()).isZero();
        assertThat(send("DELETE", fleet, "{}", 0).statusCode()).isEqualTo(204);
        fits(send("DELETE", fleet, "{}", 0), fleet, "delete", 404);
        assertThat(analyst.json(fleet).path("newest").path("state").stringValue())
                .isEqualTo("cancelled");
        fits(analyst.post(fleet, "{\"days\":0,\"fitDays\":14}"), fleet, "post", 400);
        fits(analyst.post(fleet, "{\"days\":60}"), fleet, "post", 400);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = ';',
            value = {
                "{\"kind\":\"guess\",\"days\":30}",
                "{\"kind\":\"back-test\",\"days\":0,\"changes\":[]}",
                "{\"kind\":\"back-test\",\"days\":30}",
                "{\"kind\":\"sweep\",\"days\":30,\"path\":\"change.clear_hours\",\"values\":[]}",
                "{\"kind\":\"sweep\",\"days\":30,\"path\":\"change.clear_hours\",\"values\":[1],\"costVisit\":-1}",
                "{\"kind\":\"sweep\",\"days\":30,\"path\":\"change.clear_hours\",\"values\":[1],\"secondPath\":\"change.clear_hours\",\"secondValues\":[2],\"costVisit\":1,\"costStop\":1,\"costLate\":1}",
                "{\"kind\":\"sweep\",\"days\":30,\"path\":\"change.clear_hours\",\"values\":[1],\"secondPath\":\"limits.condensing_celsius\",\"costVisit\":1,\"costStop\":1,\"costLate\":1}",
                "{\"kind\":\"sweep\",\"days\":30,\"path\":\"change.clear_hours\",\"values\":[1,2,3,4,5,6,7,8],\"secondPath\":\"limits.condensing_celsius\",\"secondValues\":[61,62,63,64,65,66,67,68],\"costVisit\":1,\"costStop\":1,\"costLate\":1}",
            })
    void badQuestion_isRefusedAndSaysWhy(String body) {
        fits(analyst.post(ROOT + "/runs", body), ROOT + "/runs", "post", 400);
    }

    @Test
    void whoSeesSomeSites_seesNumbersAndNoMachines() {
        Web here = new Web(
                server, server.headers(server.account("Ida of here", Role.ANALYST, SiteScope.of(List.of("site-1")))));

        assertThat(here.get(ROOT).statusCode()).isEqualTo(200);
        for (String path : List.of("/trials", "/runs", "/fleet")) {
            assertThat(here.get(ROOT + path).statusCode()).as(path).isEqualTo(403);
        }
        for (String path : List.of("/effects", "/file")) {
            assertThat(here.post(ROOT + path, "{\"changes\":[],\"text\":\"version: x\"}")
                            .statusCode())
                    .as(path)
                    .isEqualTo(403);
        }
        assertThat(here.post(ROOT + "/trials", changes(FakeBench.RATE, 0.5)).statusCode())
                .isEqualTo(403);
    }
}
