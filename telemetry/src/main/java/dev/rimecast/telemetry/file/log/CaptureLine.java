package dev.rimecast.telemetry.file.log;

import dev.rimecast.telemetry.file.csv.IsoTime;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** One JSON object of a capture. What else it has (qos, retain, mid …) is of no interest here. */
record CaptureLine(String topic, byte[] payload, Instant at) {
    private static final JsonMapper JSON = JsonMapper.builder().build();

    /** A common subscriber writes Z and the offset of its local time after it; the offset is what holds. */
    private static final Pattern BOTH_ZONES = Pattern.compile("(.*)Z([+-]\\d\\d):?(\\d\\d)");

    /** @throws IllegalArgumentException if it is none; the message says why */
    static CaptureLine parse(String text) {
        JsonNode node;
        try {
            node = JSON.readTree(text);
        } catch (JacksonException e) {
            throw new IllegalArgumentException("is not a JSON object: " + e.getOriginalMessage(), e);
        }
        if (!node.isObject()) {
            throw new IllegalArgumentException("is not a JSON object");
        }
        String topic = text(node, "topic");
        byte[] payload = text(node, "payload").getBytes(StandardCharsets.UTF_8);
        JsonNode length = node.path("payloadlen");
        if (length.isIntegralNumber() && length.asLong() != payload.length) {
            throw new IllegalArgumentException("payloadlen is " + length.asLong() + ", but the payload has "
                    + payload.length + " bytes: it was cut, or is not text");
        }
        return new CaptureLine(topic, payload, time(text(node, "tst")));
    }

    private static String text(JsonNode node, String field) {
        JsonNode value = node.path(field);
        if (!value.isString()) {
            throw new IllegalArgumentException(
                    value.isMissingNode() ? field + " is missing" : field + " must be a string");
        }
        return value.stringValue();
    }

    private static Instant time(String text) {
        Matcher both = BOTH_ZONES.matcher(text);
        String iso = both.matches() ? both.group(1) + both.group(2) + ':' + both.group(3) : text;
        Optional<Instant> instant = IsoTime.parse(iso);
        return instant.orElseThrow(
                () -> new IllegalArgumentException("tst must be ISO 8601 with offset, found '" + text + "'"));
    }
}
