package dev.rimecast.telemetry.yaml;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.snakeyaml.engine.v2.nodes.Node;
import org.snakeyaml.engine.v2.nodes.ScalarNode;

/** What one reading of a document shares: where it comes from, what replaces its values, what was wrong so far. */
final class ReadContext {
    private final String source;
    private final Map<String, YamlOverride> overrides;
    private final List<YamlProblem> problems = new ArrayList<>();

    ReadContext(String source, Map<String, YamlOverride> overrides) {
        this.source = source;
        this.overrides = Map.copyOf(overrides);
    }

    String source() {
        return source;
    }

    Optional<YamlOverride> override(String path) {
        return Optional.ofNullable(overrides.get(path));
    }

    /** Notes a problem; one with a value that came from outside names the outside as its source. */
    void add(String path, int line, String what) {
        YamlOverride override = overrides.get(path);
        problems.add(
                override == null
                        ? new YamlProblem(source, path, line, what)
                        : new YamlProblem(override.source(), path, 0, what));
    }

    /** A value of the document; what is wrong with it is noted, and the result empty. */
    <T> Optional<T> parse(String path, int line, Node node, YamlType<T> type) {
        if (!(node instanceof ScalarNode scalar)) {
            add(path, line, "must be " + type.must() + ", found " + NodeWords.of(node));
            return Optional.empty();
        }
        if (NodeWords.isNull(node)) {
            add(path, line, "has no value: give " + type.must() + ", or delete the line");
            return Optional.empty();
        }
        return parse(path, line, new Scalar(scalar.getValue(), scalar.getTag(), true), type);
    }

    /** A value from outside the document. */
    <T> Optional<T> parseOutside(String path, String text, YamlType<T> type) {
        return parse(path, 0, Scalar.untyped(text), type);
    }

    private <T> Optional<T> parse(String path, int line, Scalar scalar, YamlType<T> type) {
        YamlType.Parsed<T> parsed = type.parse(scalar);
        if (parsed instanceof YamlType.Parsed.Bad<T> bad) {
            add(path, line, bad.what());
        }
        return parsed instanceof YamlType.Parsed.Good<T> good ? Optional.of(good.value()) : Optional.empty();
    }

    boolean isClean() {
        return problems.isEmpty();
    }

    /** Everything found so far, in the order of the lines. */
    YamlProblems toException() {
        List<YamlProblem> sorted = new ArrayList<>(problems);
        sorted.sort(Comparator.comparingInt(YamlProblem::line)); // stable: equal lines stay in order of discovery
        return new YamlProblems(sorted);
    }
}
