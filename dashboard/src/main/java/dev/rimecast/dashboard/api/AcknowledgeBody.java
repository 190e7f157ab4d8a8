package dev.rimecast.dashboard.api;

import dev.rimecast.dashboard.http.Problem;
import io.javalin.http.Context;
import java.util.Map;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * What somebody says with "seen".
 *
 * @param version the version that was looked at
 * @param note why, or what happens next; may be empty
 * @param by a name; there are no accounts yet, so it is what the person typed
 */
record AcknowledgeBody(long version, String note, String by) {
    private static final int LONGEST_NOTE = 2_000;
    private static final int LONGEST_NAME = 60;
    private static final String NO_NAME = "somebody";

    /** Reads it from a request, or ends the request with a problem that names the member. */
    record Reader(JsonMapper json) {
        AcknowledgeBody read(Context ctx) {
            String type = ctx.contentType();
            if (type == null || !type.startsWith("application/json")) {
                throw new Problem(415, "not-json", "The body must be JSON", "Send application/json.", Map.of())
                        .asException();
            }
            JsonNode body = parse(ctx.body());
            JsonNode version = body.path("version");
            if (!version.isIntegralNumber()) {
                throw Problem.badBody("version must be the version of the alert that you looked at")
                        .asException();
            }
            String by = text(body, "by", LONGEST_NAME);
            return new AcknowledgeBody(version.asLong(), text(body, "note", LONGEST_NOTE), by.isEmpty() ? NO_NAME : by);
        }

        private JsonNode parse(String text) {
            try {
                return json.readTree(text);
            } catch (JacksonException e) {
                throw Problem.badBody("not JSON: " + e.getOriginalMessage()).asException();
            }
        }

        private static String text(JsonNode body, String name, int longest) {
            JsonNode node = body.path(name);
            if (node.isMissingNode() || node.isNull()) {
                return "";
            }
            if (!node.isString() || node.stringValue().length() > longest) {
                throw Problem.badBody(name + " must be a text of at most " + longest + " characters")
                        .asException();
            }
            return node.stringValue().strip();
        }
    }
}
