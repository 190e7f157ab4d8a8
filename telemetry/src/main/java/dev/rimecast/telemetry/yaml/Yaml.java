package dev.rimecast.telemetry.yaml;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import org.snakeyaml.engine.v2.api.LoadSettings;
import org.snakeyaml.engine.v2.api.lowlevel.Compose;
import org.snakeyaml.engine.v2.api.lowlevel.Parse;
import org.snakeyaml.engine.v2.events.CollectionEndEvent;
import org.snakeyaml.engine.v2.events.CollectionStartEvent;
import org.snakeyaml.engine.v2.events.Event;
import org.snakeyaml.engine.v2.exceptions.Mark;
import org.snakeyaml.engine.v2.exceptions.MarkedYamlEngineException;
import org.snakeyaml.engine.v2.exceptions.YamlEngineException;
import org.snakeyaml.engine.v2.nodes.MappingNode;
import org.snakeyaml.engine.v2.nodes.Node;

/**
 * Reads YAML 1.2 documents strictly. The caller's function takes what it needs from a {@link YamlMap}; whatever is in
 * the document and was not asked for is unknown, and a problem. All problems come in one {@link YamlProblems}.
 *
 * <pre>{@code
 * Limits limits = Yaml.read(file, yaml -> new Limits(
 *         yaml.duration("pull-down", ofSeconds(60), ofHours(2), ofMinutes(15)),
 *         yaml.map("condensing").number("limit-c", Range.of(30, 100), 65)));
 * }</pre>
 */
public final class Yaml {
    /** Settings are a few levels deep; the composer takes a frame of the stack for each. */
    private static final int DEEPEST = 50;

    private Yaml() {}

    /**
     * Reads a file.
     *
     * @throws IOException if it can't be read at all
     * @throws YamlProblems if anything in it is wrong
     */
    public static <T> T read(Path file, Function<YamlMap, T> reader) throws IOException {
        return read(file.toString(), text(file), Map.of(), reader);
    }

    /** Reads a text; {@code source} is what problems call it. */
    public static <T> T read(String source, String text, Function<YamlMap, T> reader) {
        return read(source, text, Map.of(), reader);
    }

    /**
     * Reads a text of which some single values are replaced from outside.
     *
     * @param overrides by dotted path; a path that {@code reader} doesn't ask for is ignored
     */
    public static <T> T read(
            String source, String text, Map<String, YamlOverride> overrides, Function<YamlMap, T> reader) {
        ReadContext context = new ReadContext(source, overrides);
        YamlMap root = root(context, text);
        T result;
        try {
            result = reader.apply(root);
        } catch (IllegalArgumentException e) {
            // A record refused a combination of values, or one that merely stands in for a value found wrong before.
            if (context.isClean()) {
                root.problem(String.valueOf(e.getMessage()));
            }
            throw context.toException();
        }
        root.reportUnknownKeys();
        if (!context.isClean()) {
            throw context.toException();
        }
        return result;
    }

    /**
     * The text of a UTF-8 file.
     *
     * @throws YamlProblems if it is not UTF-8
     */
    public static String text(Path file) throws IOException {
        try {
            return Files.readString(file, StandardCharsets.UTF_8);
        } catch (CharacterCodingException e) {
            ReadContext context = new ReadContext(file.toString(), Map.of());
            context.add("", 0, "is not UTF-8: save it in that encoding");
            throw context.toException();
        }
    }

    /**
     * The text of a UTF-8 resource that comes with the product.
     *
     * @param beside a class in the same package
     * @throws IllegalStateException if it is not on the class path
     */
    public static String text(Class<?> beside, String name) {
        try (InputStream in = beside.getResourceAsStream(name)) {
            if (in == null) {
                throw new IllegalStateException(name + " is not on the class path beside " + beside.getName());
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static void refuseDepth(ReadContext context, LoadSettings settings, String text) {
        int depth = 0;
        for (Event event : new Parse(settings).parseString(text)) {
            if (event instanceof CollectionStartEvent && ++depth > DEEPEST) {
                int line = event.getStartMark().map(Mark::getLine).orElse(-1) + 1;
                context.add("", line, "is nested more than " + DEEPEST + " deep: close a bracket, or write it flatter");
                throw context.toException();
            }
            if (event instanceof CollectionEndEvent) {
                depth--;
            }
        }
    }

    private static YamlMap root(ReadContext context, String text) {
        LoadSettings settings = LoadSettings.builder()
                .setLabel(context.source())
                .setAllowDuplicateKeys(true) // found and reported by YamlMap, together with everything else
                .build();
        Optional<Node> node = Optional.empty();
        try {
            refuseDepth(context, settings, text);
            node = new Compose(settings).composeString(text);
        } catch (MarkedYamlEngineException e) {
            int line =
                    e.getProblemMark().or(e::getContextMark).map(Mark::getLine).orElse(-1) + 1;
            context.add("", line, "is not YAML: " + e.getProblem());
            throw context.toException();
        } catch (YamlEngineException e) {
            context.add("", 0, "is not YAML: " + e.getMessage());
            throw context.toException();
        }
        if (node.isPresent() && !(node.get() instanceof MappingNode)) {
            context.add("", Lines.of(node.get()), "must be keys with values at its top");
            throw context.toException();
        }
        return new YamlMap(context, "", 1, node.map(MappingNode.class::cast));
    }
}
