package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.dashboard.RouteTable.Row;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.util.HashMap;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import tools.jackson.databind.JsonNode;

/**
 * Asks for operations by their names in docs/openapi.yaml, such as {@code GET /api/v1/machines/{machine}}, and remembers which of
 * them did what they are for. {@link Web} holds each answer against its description.
 */
final class Operations {
    private final Map<String, String> values = new HashMap<>();
    private final Set<String> done = new TreeSet<>();

    /** What stands for a placeholder from now on, in paths and bodies. */
    void put(String placeholder, String value) {
        values.put(placeholder, value);
    }

    /** Those that were done at least once. */
    Set<String> done() {
        return done;
    }

    String filled(String text) {
        String filled = text;
        for (Map.Entry<String, String> value : values.entrySet()) {
            filled = filled.replace('{' + value.getKey() + '}', value.getValue());
        }
        return filled;
    }

    HttpResponse<String> get(Web who, String path) {
        return done("GET " + path, who.send(who.request(filled(path)).GET().build()));
    }

    HttpResponse<String> delete(Web who, String path) {
        return done(
                "DELETE " + path, who.send(who.request(filled(path)).DELETE().build()));
    }

    HttpResponse<String> post(Web who, String path, String body, String... headers) {
        return send(who, "POST", path, body, headers);
    }

    HttpResponse<String> put(Web who, String path, String body, String... headers) {
        return send(who, "PUT", path, body, headers);
    }

    private HttpResponse<String> send(Web who, String method, String path, String body, String... headers) {
        HttpRequest request = who.request(filled(path), headers)
                .header("Content-Type", body.startsWith("{") ? "application/json" : "text/csv")
                .method(method, BodyPublishers.ofString(filled(body)))
                .build();
        return done(method + ' ' + path, who.send(request));
    }

    /** Up to its first event. */
    void stream(Web who, String path) {
        Answered answer = Answered.ask(who, new Row("GET", path, Set.of(), false, "", 200), values);
        assertThat(answer.statusCode()).isEqualTo(200);
        done.add("GET " + path);
    }

    HttpResponse<String> done(String operation, HttpResponse<String> answer) {
        assertThat(answer.statusCode()).as("%s%n%s", operation, answer.body()).isBetween(200, 299);
        done.add(operation.replaceFirst("[?].*", ""));
        return answer;
    }

    /** The text of a member of an answer, by the names on the way to it. */
    static String text(HttpResponse<String> answer, String... members) {
        JsonNode node = Web.parse(answer);
        for (String member : members) {
            node = node.path(member);
        }
        return node.asString();
    }
}
