package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.dashboard.RouteTable.Row;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.io.IOException;
import java.net.Socket;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import org.assertj.core.api.AbstractStringAssert;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * What holds for the answers of every route, good and bad (OWASP ASVS 5.0: 3.2.1, 3.4, 4.1.1, 4.1.3, 4.2.1, 5.2.1, 13.4, 14.3.2, 16.5.1).
 * Identifiers that are not there make the failures.
 */
class EveryRouteTest {
    private static FakeServer server;
    private static Web administrator;

    @BeforeAll
    static void start() {
        server = FakeServer.guarded(FakeFleets::small);
        administrator = new Web(server);
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    /** But the stream of events, which does not end. */
    static Stream<Row> rows() {
        return RouteTable.ROWS.stream().filter(row -> !row.path().equals("/api/v1/events"));
    }

    private static String somewhere(Row row) {
        return row.path().replaceAll("\\{[^}]*}", "7d3c0f7e-8a57-4d0e-9a3e-0c7c2b9a1f01");
    }

    private static HttpResponse<String> ask(Web as, Row row, String body) {
        return as.send(as.request(somewhere(row))
                .header("Content-Type", "application/json")
                .method(row.method(), body.isEmpty() ? BodyPublishers.noBody() : BodyPublishers.ofString(body))
                .build());
    }

    @ParameterizedTest
    @MethodSource("rows")
    void answer_hasTheHeaders_andTellsNothingOfOurs(Row row) {
        String body = row.changes() && !row.method().equals("DELETE") ? "{\"nonsense\":" : "";
        for (Web who : List.of(administrator, administrator.nobody())) {
            HttpResponse<String> answer = ask(who, row, body);
            assertThat(answer.statusCode()).as(row.route()).isNotEqualTo(500);
            header(answer, "Content-Security-Policy")
                    .contains("default-src 'none'", "object-src 'none'", "base-uri 'none'", "frame-ancestors 'none'");
            header(answer, "X-Content-Type-Options").isEqualTo("nosniff");
            header(answer, "Referrer-Policy").isEqualTo("no-referrer");
            if (answer.statusCode() != 204) {
                header(answer, "Cache-Control").matches("no-store|private, no-cache|no-cache");
            }
            if (!answer.body().isEmpty()) {
                header(answer, "Content-Type")
                        .matches("application/(problem\\+)?json(; ?charset=utf-8)?|text/[a-z]+; ?.*charset=utf-8.*"
                                + "|text/plain; ?version=.*charset=utf-8.*");
            }
            assertThat(answer.headers().map().keySet())
                    .as("of %s", row.route())
                    .noneMatch(name -> name.toLowerCase(Locale.ROOT).startsWith("access-control"))
                    .doesNotContainAnyElementsOf(List.of("server", "x-powered-by"));
            assertThat(answer.body())
                    .doesNotContain("Exception", "\tat ", "dev.rimecast.", "org.postgresql", "select ");
        }
    }

    private static AbstractStringAssert<?> header(HttpResponse<String> answer, String name) {
        String value = answer.headers().firstValue(name).orElse("");
        return assertThat(name.equals("Content-Type") ? value.toLowerCase(Locale.ROOT) : value)
                .as("%s of %s", name, answer.request().uri());
    }

    static Stream<Row> changes() {
        return rows().filter(row -> row.changes() && !row.method().equals("DELETE"));
    }

    @ParameterizedTest
    @MethodSource("changes")
    void bodyOfManyMegabytes_isRefused_bySomebodyAndByNobody(Row row) {
        String much = "{\"text\":\"" + "x".repeat(5 << 20) + "\"}";
        for (Web who : List.of(administrator, administrator.nobody())) {
            try {
                assertThat(ask(who, row, much).statusCode()).as(row.route()).isBetween(400, 499);
            } catch (IllegalStateException cutOff) {
                assertThat(cutOff).hasCauseInstanceOf(IOException.class);
            }
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"TRACE", "CONNECT", "PROPFIND", "TRACK"})
    void methodThatIsNotServed_isRefused(String method) throws IOException {
        String answer = raw(method + " /api/v1/fleet HTTP/1.1\r\nHost: localhost:" + server.port()
                + "\r\nCookie: secret=tell\r\nConnection: close\r\n\r\n");
        assertThat(answer).matches("(?s)HTTP/1.1 (4|501).*").doesNotContain("secret=tell");
    }

    /** RFC 9112, 6.3 and 11.2: a server may refuse what could be read in two ways, and ours does. */
    @Test
    void requestWithTwoLengths_isRefused() throws IOException {
        for (String both : List.of(
                "Content-Length: 5\r\nContent-Length: 6\r\n", "Content-Length: 5\r\nTransfer-Encoding: chunked\r\n")) {
            assertThat(raw("POST /api/v1/session HTTP/1.1\r\nHost: localhost:" + server.port() + "\r\n" + both
                            + "Connection: close\r\n\r\n0\r\n\r\n"))
                    .as(both)
                    .startsWith("HTTP/1.1 400");
        }
    }

    /** What nmap sends to find out what it speaks with. */
    @Test
    void whatIsNoHttp_getsNoPageOfTheServerUnderneath() throws IOException {
        for (String request :
                List.of("\u0016\u0003\r\n\r\n", "GET /\u0001 HTTP/1.1\r\nHost: localhost\r\n\r\n", "HELP\r\n\r\n")) {
            String answer = raw(request);
            assertThat(answer)
                    .contains(
                            "HTTP/1.1 4",
                            "Content-Security-Policy: default-src 'none'",
                            "X-Content-Type-Options: nosniff")
                    .doesNotContain("<html", "Jetty", "badMessage", "Illegal");
        }
    }

    @Test
    void forwardedAddress_isNotBelieved() {
        int refused = 0;
        for (int i = 0; i < 120 && refused == 0; i++) {
            int status = administrator
                    .nobody()
                    .post("/api/v1/site-check", "{\"link\":\"x\"}", "X-Forwarded-For", "198.51.100." + i)
                    .statusCode();
            refused += status == 429 ? 1 : 0;
        }
        assertThat(refused)
                .as("the limit of an address, whatever it calls itself")
                .isPositive();
    }

    private static String raw(String request) throws IOException {
        try (Socket socket = new Socket("127.0.0.1", server.port())) {
            socket.setSoTimeout(5_000);
            socket.getOutputStream().write(request.getBytes(StandardCharsets.US_ASCII));
            return new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        }
    }
}
