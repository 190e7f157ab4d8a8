package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.RepeatedTest;
import org.junit.jupiter.api.Test;

/** Live updates over real HTTP. */
class LiveTest {
    private final HttpClient client = HttpClient.newHttpClient();

    @Test
    void events_changeHappens_arrivesWithAnIdAndTheClockFirst() {
        try (FakeServer server = FakeServer.start(FakeFleets::small)) {
            List<String> lines = open(server, "/api/v1/events?kinds=alert");
            await().until(() -> lines.contains("event: clock"));

            server.changes().publish("cycle", "ice-0001", "");
            server.fleet().clear("ice-0003");

            await().untilAsserted(() -> assertThat(lines)
                    .contains("event: alert")
                    .anyMatch(line -> line.startsWith("id: "))
                    .anyMatch(line -> line.contains("\"machine\":\"ice-0003\"")));
            assertThat(lines).doesNotContain("event: cycle");
        }
    }

    @Test
    void events_cameBackWithAStrangeId_resets() {
        try (FakeServer server = FakeServer.start(FakeFleets::small)) {
            List<String> lines = open(server, "/api/v1/events?after=elsewhere-4");

            await().until(() -> lines.contains("event: reset"));
        }
    }

    @Test
    void events_answer_isNeitherKeptNorBuffered() throws Exception {
        try (FakeServer server = FakeServer.start(FakeFleets::small)) {
            HttpResponse<?> answer = client.send(
                    request(server, "/api/v1/events")
                            .header("Accept-Encoding", "gzip")
                            .build(),
                    BodyHandlers.ofInputStream());

            assertThat(answer.headers().firstValue("Content-Type").orElseThrow())
                    .startsWith("text/event-stream");
            assertThat(answer.headers().firstValue("Cache-Control")).hasValue("no-store");
            assertThat(answer.headers().firstValue("X-Accel-Buffering")).hasValue("no");
            assertThat(answer.headers().firstValue("Content-Encoding")).isEmpty();
        }
    }

    @Test
    void events_moreThanOneMayHave_areRefusedWithWhatToDo() throws Exception {
        try (FakeServer server = FakeServer.start(FakeFleets::small)) {
            HttpRequest asked = request(server, "/api/v1/events").build();
            for (int i = 0; i < 20; i++) {
                assertThat(client.send(asked, BodyHandlers.ofInputStream()).statusCode())
                        .isEqualTo(200);
            }

            HttpResponse<String> refused = client.send(asked, BodyHandlers.ofString());
            assertThat(refused.statusCode()).isEqualTo(429);
            assertThat(refused.body()).contains("too-many-streams", "20 live streams", "close pages");
            assertThat(client.send(request(server, "/api/v1/events").build(), BodyHandlers.ofInputStream())
                            .statusCode())
                    .as("somebody else")
                    .isEqualTo(200);
        }
    }

    /** They stay open for as long as somebody looks; the bound is for a busy machine. */
    @RepeatedTest(5)
    void close_withTwentyOpenStreams_waitsForNone() {
        FakeServer server = FakeServer.start(FakeFleets::small);
        for (int i = 0; i < 20; i++) {
            open(server, "/api/v1/events");
        }
        await().until(() ->
                new Web(server).json("/api/v1/status").path("liveViewers").asInt() == 20);

        long started = System.nanoTime();
        server.close();

        assertThat(Duration.ofNanos(System.nanoTime() - started)).isLessThan(Duration.ofSeconds(20));
    }

    private List<String> open(FakeServer server, String path) {
        List<String> lines = new CopyOnWriteArrayList<>();
        CompletableFuture<?> unused = client.sendAsync(request(server, path).build(), BodyHandlers.ofLines())
                .thenAcceptAsync(answer -> answer.body().forEach(lines::add));
        assertThat(unused).isNotNull();
        return lines;
    }

    private static HttpRequest.Builder request(FakeServer server, String path) {
        return new Web(server).request(path);
    }
}
