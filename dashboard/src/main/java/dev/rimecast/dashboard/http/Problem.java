package dev.rimecast.dashboard.http;

import java.util.LinkedHashMap;
import java.util.Map;

/**
 * Why a request was not done (RFC 9457).
 *
 * @param code last part of the type URI, for programs
 * @param title the same for every problem of this type
 * @param detail what was wrong this time, and what to do
 * @param more further members
 */
public record Problem(int status, String code, String title, String detail, Map<String, Object> more) {
    private static final String TYPE = "urn:rimecast:problem:";

    public Problem {
        more = Map.copyOf(more);
    }

    public static Problem badParameter(String parameter, String detail) {
        return new Problem(
                400, "bad-parameter", "A parameter is not understood", detail, Map.of("parameter", parameter));
    }

    public static Problem badBody(String detail) {
        return new Problem(400, "bad-body", "The body is not understood", detail, Map.of());
    }

    public static Problem notFound(String detail) {
        return new Problem(404, "not-found", "There is nothing here", detail, Map.of());
    }

    public static Problem unavailable(String detail) {
        return new Problem(503, "unavailable", "Not now", detail, Map.of("retryAfterSeconds", 10));
    }

    public static Problem internal() {
        return new Problem(
                500, "internal", "Our fault", "Something went wrong on the server; its log says what.", Map.of());
    }

    public ProblemException asException() {
        return new ProblemException(this);
    }

    /** The members on the wire, in the order of the standard. */
    Map<String, Object> members(String instance) {
        Map<String, Object> members = new LinkedHashMap<>();
        members.put("type", TYPE + code);
        members.put("title", title);
        members.put("status", status);
        members.put("detail", detail);
        members.put("instance", instance);
        members.putAll(more);
        return members;
    }
}
