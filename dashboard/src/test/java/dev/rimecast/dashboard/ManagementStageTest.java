package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.dashboard.fake.FakeProbes;
import dev.rimecast.dashboard.system.Probes;
import io.micrometer.prometheusmetrics.PrometheusConfig;
import io.micrometer.prometheusmetrics.PrometheusMeterRegistry;
import java.io.IOException;
import java.io.InputStream;
import java.net.ConnectException;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;

/** What programs ask that look after a process without pages. */
class ManagementStageTest {
    private static final String TOKEN = "x".repeat(ManagementSettings.SHORTEST_TOKEN);

    private final PrometheusMeterRegistry meters = new PrometheusMeterRegistry(PrometheusConfig.DEFAULT);

    private ManagementStage start(Optional<String> token, Probes probes) {
        meters.counter("rimecast.test.things").increment();
        return ManagementStage.start(
                new ManagementSettings(DashboardSettings.loopback(0, "test"), token), probes, meters);
    }

    private static HttpResponse<String> ask(ManagementStage stage, String path, String... headers) throws Exception {
        HttpRequest.Builder request = HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + stage.port() + path));
        if (headers.length > 0) {
            request.headers(headers);
        }
        return HttpClient.newHttpClient().send(request.build(), HttpResponse.BodyHandlers.ofString());
    }

    @Test
    void probes_ofAProcessThatIsWell_sayYes() throws Exception {
        try (ManagementStage stage = start(Optional.empty(), FakeProbes.WELL)) {
            for (String path : List.of("/livez", "/readyz")) {
                HttpResponse<String> answer = ask(stage, path);

                assertThat(answer.statusCode()).as(path).isEqualTo(200);
                assertThat(answer.body()).isEqualTo("{\"ok\":true,\"failing\":[]}");
                assertThat(answer.headers().firstValue("Cache-Control")).contains("no-store");
                assertThat(answer.headers().firstValue("X-Content-Type-Options"))
                        .contains("nosniff");
            }
        }
    }

    @Test
    void probes_ofAProcessThatIsNot_nameThePartsAndNothingElse() throws Exception {
        try (ManagementStage stage =
                start(Optional.empty(), new FakeProbes(List.of("analytics"), List.of("analytics", "ingest")))) {
            assertThat(ask(stage, "/livez"))
                    .returns(503, HttpResponse::statusCode)
                    .returns("{\"ok\":false,\"failing\":[\"analytics\"]}", HttpResponse::body);
            assertThat(ask(stage, "/readyz"))
                    .returns(503, HttpResponse::statusCode)
                    .returns("{\"ok\":false,\"failing\":[\"analytics\",\"ingest\"]}", HttpResponse::body);
        }
    }

    @Test
    void metrics_withAToken_areForWhoHasIt() throws Exception {
        try (ManagementStage stage = start(Optional.of(TOKEN), FakeProbes.WELL)) {
            assertThat(ask(stage, "/metrics", "Authorization", "Bearer " + TOKEN))
                    .returns(200, HttpResponse::statusCode)
                    .satisfies(answer -> assertThat(answer.body()).contains("rimecast_test_things_total 1.0"));
            for (String wrong : List.of("Bearer y", "Bearer ", "Basic " + TOKEN, "Bearer " + TOKEN + "x")) {
                HttpResponse<String> refused = ask(stage, "/metrics", "Authorization", wrong);
                assertThat(refused.statusCode()).as(wrong).isEqualTo(401);
                assertThat(refused.headers().firstValue("WWW-Authenticate")).contains("Bearer");
                assertThat(refused.body()).doesNotContain("rimecast_test");
            }
            assertThat(ask(stage, "/metrics").statusCode()).isEqualTo(401);
            assertThat(ask(stage, "/livez").statusCode()).isEqualTo(200);
        }
    }

    @Test
    void metrics_withoutAToken_onLoopback_areOpenToThisMachine() throws Exception {
        try (ManagementStage stage = start(Optional.empty(), FakeProbes.WELL)) {
            assertThat(ask(stage, "/metrics").statusCode()).isEqualTo(200);
            assertThat(askAs(stage, "evil.example")).startsWith("HTTP/1.1 421");
        }
    }

    @Test
    void everythingElse_isNotThere() throws Exception {
        try (ManagementStage stage = start(Optional.empty(), FakeProbes.WELL)) {
            for (String path : List.of("/", "/healthz", "/api/v1/fleet", "/sign-in")) {
                assertThat(ask(stage, path).statusCode()).as(path).isEqualTo(404);
            }
        }
    }

    /** As a page of somebody else does whose name resolves to this machine. */
    private static String askAs(ManagementStage stage, String host) throws IOException {
        try (Socket socket = new Socket("127.0.0.1", stage.port());
                InputStream in = socket.getInputStream()) {
            socket.getOutputStream()
                    .write(("GET /metrics HTTP/1.1\r\nHost: " + host + "\r\nConnection: close\r\n\r\n")
                            .getBytes(StandardCharsets.US_ASCII));
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    @Test
    void close_whileAnAnswerHangs_cutsItOffAndIsNoFailure() throws Exception {
        CountDownLatch asked = new CountDownLatch(1);
        ManagementStage stage = start(Optional.empty(), new HangingProbes(asked));
        int port = stage.port();
        CompletableFuture<HttpResponse<String>> answer = HttpClient.newHttpClient()
                .sendAsync(
                        HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + port + "/livez"))
                                .build(),
                        HttpResponse.BodyHandlers.ofString());
        assertThat(asked.await(20, TimeUnit.SECONDS)).isTrue();

        stage.close();

        assertThat(answer).as("cut off").failsWithin(Duration.ofSeconds(20));
        assertThatThrownBy(() -> new Socket("127.0.0.1", port).close()).isInstanceOf(ConnectException.class);
    }

    /** Probes that never answer by themselves. */
    private record HangingProbes(CountDownLatch asked) implements Probes {
        @Override
        public Answer live() {
            asked.countDown();
            try {
                new CountDownLatch(1).await();
            } catch (InterruptedException cutOff) {
                Thread.currentThread().interrupt();
            }
            return new Answer(List.of());
        }

        @Override
        public Answer ready() {
            return live();
        }
    }

    @Test
    void otherAddresses_takeTlsAndAToken() {
        DashboardSettings.Tls tls = new DashboardSettings.Tls(Path.of("crt"), Path.of("key"));
        DashboardSettings anywhere = new DashboardSettings("0.0.0.0", 0, Optional.of(tls), "test", false);

        assertThatThrownBy(() -> new DashboardSettings("0.0.0.0", 0, Optional.empty(), "test", false))
                .hasMessageContaining("without TLS");
        assertThatThrownBy(() -> new ManagementSettings(anywhere, Optional.empty()))
                .hasMessageContaining("0.0.0.0")
                .hasMessageContaining("without a token");
        assertThatThrownBy(() -> new ManagementSettings(anywhere, Optional.of("short")))
                .hasMessageContaining("32 characters")
                .hasMessageNotContaining("short'");
        assertThat(new ManagementSettings(anywhere, Optional.of(TOKEN)))
                .asString()
                .doesNotContain(TOKEN);
    }
}
