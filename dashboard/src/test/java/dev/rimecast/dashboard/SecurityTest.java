package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import dev.rimecast.dashboard.http.Problems;
import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.slf4j.LoggerFactory;

/** Headers of OWASP ASVS 5.0 section 3.4 and the checks against requests of foreign pages (3.5). */
class SecurityTest {
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

    @ParameterizedTest
    @ValueSource(strings = {"/", "/alerts", "/machines/ice-0003", "/api/v1/fleet", "/api/v1/nothing", "/nothing"})
    void answer_ofEveryKind_hasTheHeaders(String path) {
        HttpResponse<String> answer = web.get(path);

        assertThat(answer.headers().firstValue("Content-Security-Policy").orElseThrow())
                .contains("default-src 'none'", "frame-ancestors 'none'")
                .doesNotContain("unsafe");
        assertThat(answer.headers().firstValue("X-Content-Type-Options")).hasValue("nosniff");
        assertThat(answer.headers().firstValue("Referrer-Policy")).hasValue("no-referrer");
        assertThat(answer.headers().firstValue("Server")).isEmpty();
    }

    @Test
    void post_fromAForeignOrigin_isRefusedAndChangesNothing() {
        assertThat(acknowledge("Origin", "http://elsewhere.example").statusCode())
                .isEqualTo(403);
        assertThat(acknowledge("Sec-Fetch-Site", "cross-site").statusCode()).isEqualTo(403);
        assertThat(acknowledge("Origin", "null").statusCode()).isEqualTo(403);
        assertThat(server.fleet().leading("ice-0003").version()).isEqualTo(1);
    }

    @Test
    void refusedAttempt_isInTheLog_withWhoAndWhat() {
        Logger log = (Logger) LoggerFactory.getLogger(Problems.class);
        ListAppender<ILoggingEvent> lines = new ListAppender<>();
        lines.start();
        log.addAppender(lines);
        log.setLevel(Level.INFO);
        try {
            assertThat(web.as("Olga").get("/api/v1/accounts").statusCode()).isEqualTo(403);
        } finally {
            log.detachAppender(lines);
            log.setLevel(null);
        }
        assertThat(lines.list)
                .singleElement()
                .extracting(ILoggingEvent::getFormattedMessage)
                .asString()
                .contains("GET /api/v1/accounts", "Olga", "127.0.0.1", "not-permitted");
    }

    @Test
    void post_asAForm_isRefused() {
        AlertView alert = server.fleet().leading("ice-0003");
        HttpResponse<String> answer =
                web.send(web.request("/api/v1/alerts/" + alert.finding().id() + "/acknowledge")
                        .header("Content-Type", "text/plain")
                        .POST(java.net.http.HttpRequest.BodyPublishers.ofString("{\"version\":1}"))
                        .build());

        assertThat(answer.statusCode()).isEqualTo(415);
    }

    @Test
    void post_fromOurOwnPage_isTaken() {
        AlertView alert = server.fleet().leading("ice-0014");
        String own = server.url("");
        HttpResponse<String> answer =
                web.post("/api/v1/alerts/" + alert.finding().id() + "/acknowledge", "{\"version\":1}", "Origin", own);

        assertThat(answer.statusCode()).isEqualTo(200);
    }

    @Test
    void get_ofAnAction_isRefusedAndChangesNothing() {
        AlertView alert = server.fleet().leading("ice-0022");

        HttpResponse<String> answer =
                web.get("/api/v1/alerts/" + alert.finding().id() + "/acknowledge");

        assertThat(answer.statusCode()).isIn(404, 405);
        assertThat(server.fleet().leading("ice-0022").version()).isEqualTo(alert.version());
    }

    @Test
    void request_underAForeignName_isRefusedOnLoopback() throws IOException {
        URI own = URI.create(server.url("/"));
        try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), own.getPort())) {
            socket.getOutputStream()
                    .write("GET /api/v1/fleet HTTP/1.1\r\nHost: rebound.example\r\nConnection: close\r\n\r\n"
                            .getBytes(StandardCharsets.US_ASCII));
            String answer = new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);

            assertThat(answer).startsWith("HTTP/1.1 421");
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {"../shell.html", "..%2Fshell.html", "shell.html", "assets.list", "%2e%2e/%2e%2e/etc/passwd"})
    void asset_notOfTheList_isNotServed(String name) {
        assertThat(web.get("/assets/x/" + name).statusCode()).isIn(400, 404);
    }

    private static HttpResponse<String> acknowledge(String header, String value) {
        AlertView alert = server.fleet().leading("ice-0003");
        return web.post("/api/v1/alerts/" + alert.finding().id() + "/acknowledge", "{\"version\":1}", header, value);
    }
}
