package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.io.ByteArrayOutputStream;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ArrayNode;
import tools.jackson.databind.node.ObjectNode;

/**
 * Every operation of docs/openapi.yaml that takes JSON is sent its own examples broken: a value by one that it should not have, bytes by others.
 * None ends in an error of the server, none in a word of ours (OWASP ASVS 5.0: 2.2.1, 4.2.1, 16.5.1).
 */
class BrokenBodiesTest {
    private static final long SEED = 20_261_130;
    private static final int OF_EACH = 40;
    private static final JsonMapper JSON = JsonMapper.builder().build();
    /** What a member should not be, as JSON. */
    private static final List<String> HOSTILE = List.of(
            "null",
            "true",
            "\"\"",
            "[]",
            "{}",
            "[[[[]]]]",
            "-1",
            "0",
            "1.5",
            "1e308",
            "9223372036854775808",
            "-99999999999999999999999999",
            "2147483648",
            "\"\\u0000\"",
            "\"\\u202e x\"",
            "\"%\"",
            "\"'; --\"",
            "\"../../etc\"",
            "\"=1+1\"",
            "\"" + "x".repeat(4_000) + "\"",
            "\"+300000-01-01T00:00:00Z\"",
            "\"-999999999-01-01T00:00:00Z\"",
            "\"0001-01-01T00:00:00+18:00\"",
            "\"2026-02-30\"",
            "\"7d3c0f7e-8a57-4d0e-9a3e-0c7c2b9a1f01\"",
            "\"7d3c0f7e-8a57-4d0e-9a3e\"",
            "[null]",
            "{\"a\":{\"b\":[{}]}}");

    private static FakeServer server;

    @BeforeAll
    static void start() {
        server = FakeServer.guarded(FakeFleets::small);
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    /** One operation with what it is sent when all is well. */
    private record Operation(String method, String path, List<JsonNode> examples) {}

    private static List<Operation> operations() {
        List<Operation> all = new ArrayList<>();
        OpenApiDocument document = OpenApiDocument.read();
        for (String operation : document.operations()) {
            String[] parts = operation.split(" ", -1);
            JsonNode content = document.operation(parts[1], parts[0].toLowerCase(Locale.ROOT))
                    .path("requestBody")
                    .path("content")
                    .path("application/json");
            List<JsonNode> examples = new ArrayList<>();
            content.path("examples").forEach(example -> examples.add(example.path("value")));
            if (content.isObject()) {
                assertThat(examples).as("examples of %s", operation).isNotEmpty();
                all.add(new Operation(parts[0], parts[1], examples));
            }
        }
        return all;
    }

    private static String filled(String path, Random random) {
        String machine = path.replace("{machine}", "ice-000" + (1 + random.nextInt(8)))
                .replace("{site}", "site-1")
                .replace("{book}", random.nextBoolean() ? "life" : "advice")
                .replace(
                        "{alert}",
                        server.fleet().leading("ice-0003").finding().id().toString());
        return machine.replaceAll("\\{[^}]*}", "7d3c0f7e-8a57-4d0e-9a3e-0c7c2b9a1f01");
    }

    @Test
    void brokenBody_ofEveryOperation_isNoErrorOfOurs() throws Exception {
        Random random = new Random(SEED);
        Map<Integer, Integer> statuses = new TreeMap<>();
        List<String> bad = new ArrayList<>();
        List<Operation> operations = operations();
        for (Operation operation : operations) {
            // Anew for each: some operations end what one is signed in with.
            Web administrator = new Web(server);
            for (int i = 0; i < OF_EACH; i++) {
                JsonNode example = operation
                        .examples()
                        .get(random.nextInt(operation.examples().size()));
                byte[] body = random.nextInt(3) == 0 ? scratched(example, random) : exchanged(example, random);
                HttpResponse<String> answer = administrator
                        .client()
                        .send(
                                administrator
                                        .request(filled(operation.path(), random))
                                        .header("Content-Type", "application/json")
                                        // Without it what changes a version is refused before its body is read.
                                        .header("If-Match", "\"1\"")
                                        .method(operation.method(), BodyPublishers.ofByteArray(body))
                                        .build(),
                                HttpResponse.BodyHandlers.ofString());
                statuses.merge(answer.statusCode(), 1, Integer::sum);
                if (answer.statusCode() >= 500
                        || answer.body().matches("(?s).*(Exception|\\tat |dev\\.rimecast\\.|org\\.postgresql).*")) {
                    bad.add(operation.method() + ' ' + operation.path() + ' '
                            + new String(body, StandardCharsets.UTF_8) + " -> " + answer.statusCode() + ' '
                            + answer.body());
                }
            }
        }
        System.out.println("broken bodies: " + operations.size() + " operations, answers by status " + statuses);
        assertThat(bad).as("seed %d", SEED).isEmpty();
        assertThat(operations).hasSizeGreaterThan(40);
        assertThat(statuses).as("refused unread, for want of a version").doesNotContainKey(428);
        assertThat(statuses.getOrDefault(400, 0))
                .as("bodies that were read and refused")
                .isGreaterThan(500);
    }

    /** A member somewhere in it has a value that it should not have, or is gone. */
    private static byte[] exchanged(JsonNode example, Random random) {
        JsonNode copy = example.deepCopy();
        List<Runnable> changes = new ArrayList<>();
        collect(copy, random, changes);
        if (changes.isEmpty()) {
            return HOSTILE.get(random.nextInt(HOSTILE.size())).getBytes(StandardCharsets.UTF_8);
        }
        for (int times = 1 + random.nextInt(2); times > 0; times--) {
            changes.get(random.nextInt(changes.size())).run();
        }
        return JSON.writeValueAsBytes(copy);
    }

    private static void collect(JsonNode node, Random random, List<Runnable> changes) {
        if (node instanceof ObjectNode object) {
            for (String name : List.copyOf(object.propertyNames())) {
                changes.add(() -> object.set(name, hostile(random)));
                changes.add(() -> object.remove(name));
                collect(object.path(name), random, changes);
            }
            changes.add(() -> object.set("more", hostile(random)));
        } else if (node instanceof ArrayNode array) {
            for (int i = 0; i < array.size(); i++) {
                int place = i;
                changes.add(() -> array.set(place, hostile(random)));
                collect(array.get(i), random, changes);
            }
            changes.add(() -> array.add(hostile(random)));
        }
    }

    private static JsonNode hostile(Random random) {
        return JSON.readTree(HOSTILE.get(random.nextInt(HOSTILE.size())));
    }

    /** Bytes are taken out, put in, or changed. */
    private static byte[] scratched(JsonNode example, Random random) {
        byte[] bytes = JSON.writeValueAsBytes(example);
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        for (byte each : bytes) {
            switch (random.nextInt(20)) {
                case 0 -> out.write(random.nextInt(256));
                case 1 -> {
                    out.write(each);
                    out.write("{}[]\",:0\\".charAt(random.nextInt(9)));
                }
                case 2 -> {}
                default -> out.write(each);
            }
        }
        return out.toByteArray();
    }
}
