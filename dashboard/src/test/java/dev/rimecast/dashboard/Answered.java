package dev.rimecast.dashboard;

import dev.rimecast.dashboard.RouteTable.Row;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.net.http.HttpRequest.BodyPublisher;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.util.Comparator;
import java.util.Map;
import java.util.UUID;

/**
 * What a route of the {@link RouteTable} answered.
 *
 * @param body of a stream only what came up to its first event
 */
record Answered(int statusCode, String body) {

    /** Asks it, with its placeholders filled; the answer is held against its description. */
    static Answered ask(Web web, Row row, Map<String, String> values) {
        var request = web.request(filled(row.path(), values));
        if (row.changes()) {
            request.header("Content-Type", type(row.body())).method(row.method(), body(row.body(), values));
        }
        try {
            HttpResponse<InputStream> answer = web.client().send(request.build(), BodyHandlers.ofInputStream());
            try (InputStream body = answer.body()) {
                boolean stream = answer.headers()
                        .firstValue("Content-Type")
                        .filter(type -> type.startsWith("text/event-stream"))
                        .isPresent();
                String text = stream ? firstEvent(body) : text(body.readAllBytes());
                Contract.hold(answer, text);
                return new Answered(answer.statusCode(), text);
            }
        } catch (IOException | InterruptedException e) {
            throw new IllegalStateException(e);
        }
    }

    private static String type(String body) {
        if (body.equals(RouteTable.JPEG)) {
            return "image/jpeg";
        }
        return body.contains(",") && !body.startsWith("{") ? "text/csv" : "application/json";
    }

    private static BodyPublisher body(String body, Map<String, String> values) {
        return body.equals(RouteTable.JPEG)
                ? BodyPublishers.ofByteArray(Jpegs.small())
                : BodyPublishers.ofString(filled(body, values));
    }

    /** The kind of problem; empty where there is none. */
    String kind() {
        return statusCode < 400
                ? ""
                : Web.parse(body).path("type").stringValue().replaceFirst(".*:", "");
    }

    /** A stream does not end by itself: what comes up to the first event is looked at. */
    private static String firstEvent(InputStream stream) throws IOException {
        ByteArrayOutputStream read = new ByteArrayOutputStream();
        while (!text(read.toByteArray()).contains("data: ")) {
            read.write(stream.read());
        }
        return text(read.toByteArray());
    }

    private static String text(byte[] bytes) {
        return new String(bytes, StandardCharsets.UTF_8);
    }

    private static String filled(String text, Map<String, String> values) {
        String filled = text.replace("{someone}", UUID.randomUUID().toString());
        // of no site
        filled = filled.replace("{book}", "life")
                .replace("{standard}", "0")
                .replace("{first}", "1")
                .replace("{trial}", "99")
                .replace("{run}", "99")
                .replace("{gateway}", "gateway-of-nobody");
        for (Map.Entry<String, String> value : values.entrySet()) {
            filled = filled.replace('{' + value.getKey() + '}', value.getValue());
        }
        return filled;
    }

    /**
     * What was asked for may stand in the answer: the asker had it already. The longest first: by chance a short one can be
     * a part of a long one.
     */
    static String without(String body, Map<String, String> values) {
        String without = body;
        for (Map.Entry<String, String> value : values.entrySet().stream()
                .sorted(Comparator.comparing((Map.Entry<String, String> each) ->
                                each.getValue().length())
                        .reversed())
                .toList()) {
            without = without.replace(value.getValue(), '{' + value.getKey() + '}');
        }
        return without;
    }
}
