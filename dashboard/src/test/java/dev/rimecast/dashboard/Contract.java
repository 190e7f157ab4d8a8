package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.IntStream;
import tools.jackson.databind.JsonNode;

/**
 * Holds every answer that a test gets by {@link Web} against docs/openapi.yaml: its status, media type, entity tag and body.
 * A problem is one by RFC 9457, of its media type, wherever it comes from.
 */
final class Contract {
    private static final String JSON = "application/json";
    private static final String PROBLEM = "application/problem+json";
    private static final Contract OURS = new Contract(OpenApiDocument.read());

    private final OpenApiDocument document;
    private final List<String> templates;

    private Contract(OpenApiDocument document) {
        this.document = document;
        templates = document.at("/paths").propertyNames().stream()
                .sorted(Comparator.comparing(Contract::placeholders))
                .toList();
    }

    private static long placeholders(String template) {
        return template.chars().filter(c -> c == '{').count();
    }

    /** @param body as text; empty where it is none that could be read as such */
    static void hold(HttpResponse<?> answer, String body) {
        String method = answer.request().method();
        String path = answer.request().uri().getRawPath();
        String type = answer.headers()
                .firstValue("Content-Type")
                .map(text -> text.replaceFirst(";.*", "").strip().toLowerCase(Locale.ROOT))
                .orElse("");
        String what = method + ' ' + path + ": " + answer.statusCode() + ' ' + type;
        Optional<String> template =
                OURS.templates.stream().filter(each -> fits(each, path)).findFirst();
        if (template.isPresent()) {
            OURS.hold(what, template.get(), answer, type, body);
        } else if (path.startsWith("/api/")) {
            assertThat(answer.statusCode()).as(what).isBetween(400, 499);
            OURS.isProblem(what, type, body, answer.statusCode());
        }
    }

    private static boolean fits(String template, String path) {
        List<String> wanted = Arrays.asList(template.split("/", -1));
        List<String> there = Arrays.asList(path.split("/", -1));
        return wanted.size() == there.size()
                && IntStream.range(0, wanted.size())
                        .allMatch(i -> wanted.get(i).startsWith("{")
                                ? !there.get(i).isEmpty()
                                : wanted.get(i).equals(there.get(i)));
    }

    private void hold(String what, String template, HttpResponse<?> answer, String type, String body) {
        String method = answer.request().method().toLowerCase(Locale.ROOT);
        int status = answer.statusCode();
        JsonNode responses = document.operation(template, method).path("responses");
        if (status >= 400) {
            boolean healthSaysNo =
                    responses.path(String.valueOf(status)).path("content").has(JSON);
            if (!healthSaysNo) {
                isProblem(what, type, body, status);
            }
            // of a method that is not served there is no description
            if (responses.isMissingNode()) {
                return;
            }
        }
        String code = responses.has(String.valueOf(status)) ? String.valueOf(status) : "default";
        assertThat(code.equals("default") && (status < 400 || !responses.has(code)))
                .as("%s is not described", what)
                .isFalse();
        JsonNode described = document.response(template, method, code);
        if (described.path("content").isEmpty()) {
            assertThat(body).as("%s has a body, against its description", what).isEmpty();
            return;
        }
        assertThat(described.path("content").propertyNames()).as(what).contains(type);
        if (method.equals("get") && status == 200) {
            assertThat(answer.headers().firstValue("ETag").isPresent())
                    .as("%s has an entity tag, and its description says what to do with it", what)
                    .isEqualTo(responses.has("304") || described.path("headers").has("ETag"));
        }
        if (type.endsWith("json")) {
            assertThat(document.errors(template, method, code, type.replace("/", "~1"), body))
                    .as("%s%n%s", what, body)
                    .isEmpty();
        }
    }

    private void isProblem(String what, String type, String body, int status) {
        assertThat(type).as(what).isEqualTo(PROBLEM);
        assertThat(document.validate("/components/schemas/Problem", body))
                .as("%s%n%s", what, body)
                .isEmpty();
        assertThat(Web.parse(body).path("status").asInt())
                .as("status of %s", what)
                .isEqualTo(status);
    }
}
