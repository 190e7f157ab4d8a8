package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.dashboard.fake.FakeServer;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.time.Instant;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;

/** What docs/openapi.yaml shows of requests is what the server understands: each example is sent as it stands there. */
class OpenApiRequestsTest {
    private static final OpenApiDocument DOCUMENT = OpenApiDocument.read();
    /** Of the answers to what a server does not understand, or breaks on. */
    private static final Set<Integer> NOT_UNDERSTOOD = Set.of(400, 405, 413, 415, 422, 428, 500);
    /** When the examples were written. */
    private static final Instant NOW = Instant.parse("2026-05-04T10:00:00Z");

    private static final Map<String, String> VALUES = new HashMap<>();
    private static FakeServer server;

    /** @param name such as {@code POST /api/v1/marks one} */
    record Example(String method, String path, String type, String name, String body) {
        @Override
        public String toString() {
            return method + ' ' + path + ' ' + name;
        }
    }

    @BeforeAll
    static void start() {
        server = FakeServer.demonstration(() -> NOW, "examples");
        AlertView alert = server.fleet().leading("ice-0003");
        VALUES.put("machine", "ice-0003");
        VALUES.put("site", "site-1");
        VALUES.put("alert", alert.finding().id().toString());
        VALUES.put("case", alert.caseId().orElseThrow().toString());
        VALUES.put(
                "visit",
                server.visits()
                        .list(SiteScope.EVERY, Visits.Filter.OPEN)
                        .get(0)
                        .id()
                        .toString());
        VALUES.put(
                "account",
                server.account("Kim", Role.OPERATOR, SiteScope.EVERY).id().toString());
        server.account("Pim", Role.ENGINEER, SiteScope.EVERY);
        VALUES.put("receiver", "desk");
        VALUES.put("gateway", "gw-1");
        VALUES.put("book", "life");
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    static Stream<Example> examples() {
        return DOCUMENT.operations().stream().flatMap(operation -> {
            String method = operation.replaceFirst(" .*", "");
            String path = operation.replaceFirst(".* ", "");
            return contents(operation)
                    .propertyStream()
                    .flatMap(content -> content.getValue()
                            .path("examples")
                            .propertyStream()
                            .map(example -> new Example(
                                    method,
                                    path,
                                    content.getKey(),
                                    example.getKey(),
                                    text(example.getValue().path("value")))));
        });
    }

    private static JsonNode contents(String operation) {
        return DOCUMENT.operation(
                        operation.replaceFirst(".* ", ""),
                        operation.replaceFirst(" .*", "").toLowerCase(Locale.ROOT))
                .path("requestBody")
                .path("content");
    }

    private static String text(JsonNode value) {
        return value.isString() ? value.stringValue() : value.toString();
    }

    @ParameterizedTest
    @MethodSource("examples")
    void example_ofARequest_isUnderstood(Example example) {
        Web administrator = new Web(server, server.headers(Role.ADMINISTRATOR));

        HttpResponse<String> answer = administrator.send(administrator
                .request(filled(example.path()), "If-Match", example.path().contains("thresholds") ? "\"2\"" : "\"0\"")
                .header("Content-Type", example.type())
                .method(example.method(), BodyPublishers.ofString(example.body()))
                .build());

        assertThat(answer.statusCode()).as(answer.body()).isNotIn(NOT_UNDERSTOOD);
    }

    private static String filled(String path) {
        String filled = path;
        for (Map.Entry<String, String> value : VALUES.entrySet()) {
            filled = filled.replace('{' + value.getKey() + '}', value.getValue());
        }
        return filled.replace("thresholds/trials/{id}", "thresholds/trials/1")
                .replaceAll("\\{[^}]*}", "7d3c0f7e-8a57-4d0e-9a3e-0c7c2b9a1f01");
    }

    /** But a picture, of which there is nothing to read. */
    @Test
    void everyRequestWithABody_showsAnExample() {
        assertThat(DOCUMENT.operations().stream()
                        .filter(operation -> contents(operation)
                                .propertyStream()
                                .anyMatch(content -> !content.getKey().startsWith("image/")
                                        && content.getValue().path("examples").isEmpty())))
                .isEmpty();
    }
}
