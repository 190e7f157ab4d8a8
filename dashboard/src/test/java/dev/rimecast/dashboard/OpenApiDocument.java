package dev.rimecast.dashboard;

import com.networknt.schema.Error;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaLocation;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import tools.jackson.databind.JsonNode;
import tools.jackson.dataformat.yaml.YAMLMapper;

/** docs/openapi.yaml, to hold answers and examples against. */
record OpenApiDocument(JsonNode root, SchemaRegistry registry) {
    private static final List<String> METHODS = List.of("get", "post", "put", "patch", "delete");
    private static final String NAME = "urn:rimecast:openapi";

    static OpenApiDocument read() {
        JsonNode root;
        try {
            root = new YAMLMapper().readTree(Files.readString(Path.of("../docs/openapi.yaml")));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return new OpenApiDocument(
                root,
                SchemaRegistry.withDefaultDialect(
                        SpecificationVersion.DRAFT_2020_12, builder -> builder.schemas(Map.of(NAME, root.toString()))));
    }

    JsonNode at(String pointer) {
        return root.at(pointer);
    }

    /** Every method of every path, such as {@code GET /api/v1/fleet}. */
    Set<String> operations() {
        Set<String> operations = new TreeSet<>();
        at("/paths")
                .propertyStream()
                .forEach(path -> METHODS.stream()
                        .filter(path.getValue()::has)
                        .forEach(method -> operations.add(method.toUpperCase(Locale.ROOT) + ' ' + path.getKey())));
        return operations;
    }

    /** Missing where it is not described. */
    JsonNode operation(String path, String method) {
        return at("/paths").path(path).path(method);
    }

    /** What is said of a status, also where it is described elsewhere. */
    JsonNode response(String path, String method, String status) {
        JsonNode response = operation(path, method).path("responses").path(status);
        String elsewhere = response.path("$ref").asString("");
        return elsewhere.isEmpty() ? response : at(elsewhere.substring(1));
    }

    /** Pointers of everything that has a schema and examples beside it. */
    List<String> withExamples() {
        List<String> found = new ArrayList<>();
        collect(at("/paths"), "/paths", found);
        collect(at("/components"), "/components", found);
        return found;
    }

    private static void collect(JsonNode node, String pointer, List<String> found) {
        if (node.has("schema") && node.path("examples").isObject()) {
            found.add(pointer);
        }
        node.properties()
                .forEach(member -> collect(
                        member.getValue(),
                        pointer + '/' + member.getKey().replace("~", "~0").replace("/", "~1"),
                        found));
    }

    static String escaped(String pointer) {
        return pointer.replace("{", "%7B").replace("}", "%7D");
    }

    /** What is wrong with an answer; a response that is described elsewhere is looked up there. */
    List<Error> errors(String path, String method, String status, String type, String body) {
        String pointer = "/paths/" + path.replace("/", "~1") + "/" + method + "/responses/" + status;
        String elsewhere = at(pointer).path("$ref").asString("");
        return validate(
                escaped(elsewhere.isEmpty() ? pointer : elsewhere.substring(1)) + "/content/" + type + "/schema", body);
    }

    /** What is wrong with a text by the schema at a place of the document. */
    List<Error> validate(String pointer, String body) {
        Schema schema = registry.getSchema(SchemaLocation.of(NAME + "#" + pointer));
        return schema.validate(
                body,
                InputFormat.JSON,
                context -> context.executionConfig(config -> config.formatAssertionsEnabled(true)));
    }
}
