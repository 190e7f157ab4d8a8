package dev.rimecast.telemetry.yaml;

import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Function;
import org.snakeyaml.engine.v2.nodes.MappingNode;
import org.snakeyaml.engine.v2.nodes.Node;
import org.snakeyaml.engine.v2.nodes.NodeTuple;
import org.snakeyaml.engine.v2.nodes.ScalarNode;
import org.snakeyaml.engine.v2.nodes.SequenceNode;

/**
 * The keys of one mapping, taken by name and type. A value that is missing or wrong is noted and a legal stand-in
 * returned, so that reading goes on and everything wrong is told at once; {@link Yaml#read} throws in the end, so a
 * stand-in never gets out. A key that nobody asks for is unknown. Not safe for use by several threads.
 */
public final class YamlMap {
    private final ReadContext context;
    private final String path;
    private final int line;
    private final Map<String, Node> nodes = new LinkedHashMap<>();
    private final Map<String, Integer> keyLines = new LinkedHashMap<>();
    private final Set<String> asked = new LinkedHashSet<>();
    private final Map<String, YamlMap> opened = new LinkedHashMap<>();

    YamlMap(ReadContext context, String path, int line, Optional<MappingNode> node) {
        this.context = context;
        this.path = path;
        this.line = line;
        node.ifPresent(mapping -> mapping.getValue().forEach(this::take));
    }

    private void take(NodeTuple tuple) {
        Node keyNode = tuple.getKeyNode();
        int keyLine = Lines.of(keyNode);
        if (!(keyNode instanceof ScalarNode key)) {
            context.add(path, keyLine, "has a key that is not a single word");
            return;
        }
        Integer first = keyLines.putIfAbsent(key.getValue(), keyLine);
        if (first == null) {
            nodes.put(key.getValue(), tuple.getValueNode());
        } else {
            context.add(path(key.getValue()), keyLine, "is here twice, first in line " + first + ": delete one");
        }
    }

    /** Dotted path of this mapping, empty for the document. */
    public String path() {
        return path;
    }

    /** Line of this mapping, counted from 1. */
    public int line() {
        return line;
    }

    /** Keys as written, in order; asking for them does not make them known. */
    public List<String> keys() {
        return List.copyOf(nodes.keySet());
    }

    /** Whether the key is there, with a value or without, or is given from outside. */
    public boolean has(String key) {
        asked.add(key);
        return nodes.containsKey(key) || context.override(path(key)).isPresent();
    }

    /** Notes a problem with this mapping as a whole, e.g. two keys that exclude each other. */
    public void problem(String what) {
        context.add(path, line, what);
    }

    /** Notes a problem with a key. */
    public void problem(String key, String what) {
        context.add(path(key), lineOf(key), what);
    }

    /** The value, or empty if the key is not there. A value that is wrong is noted and empty. */
    public <T> Optional<T> optional(String key, YamlType<T> type) {
        asked.add(key);
        Optional<YamlOverride> override = context.override(path(key));
        if (override.isPresent()) {
            return context.parseOutside(path(key), override.get().text(), type);
        }
        Node node = nodes.get(key);
        return node == null ? Optional.empty() : context.parse(path(key), lineOf(key), node, type);
    }

    /** The value, or {@code otherwise} if the key is not there. */
    public <T> T orElse(String key, YamlType<T> type, T otherwise) {
        return optional(key, type).orElse(otherwise);
    }

    /** The value; it is a problem if the key is not there. */
    public <T> T required(String key, YamlType<T> type) {
        if (!has(key)) {
            problem(key, "is missing: give " + type.must());
        }
        return optional(key, type).orElse(type.placeholder());
    }

    public String string(String key) {
        return required(key, YamlType.text());
    }

    public String string(String key, String otherwise) {
        return orElse(key, YamlType.text(), otherwise);
    }

    public Optional<String> optionalString(String key) {
        return optional(key, YamlType.text());
    }

    public double number(String key, Range range) {
        return required(key, YamlType.number(range));
    }

    public double number(String key, Range range, double otherwise) {
        return orElse(key, YamlType.number(range), otherwise);
    }

    public OptionalDouble optionalNumber(String key, Range range) {
        return optional(key, YamlType.number(range)).stream()
                .mapToDouble(Double::doubleValue)
                .findFirst();
    }

    /** A whole number from {@code low} to {@code high}, both included. */
    public int integer(String key, int low, int high) {
        return required(key, YamlType.integer(low, high));
    }

    public int integer(String key, int low, int high, int otherwise) {
        return orElse(key, YamlType.integer(low, high), otherwise);
    }

    /** A length of time such as {@code 15m}, see {@link DurationText}. */
    public Duration duration(String key, Duration low, Duration high) {
        return required(key, YamlType.duration(low, high));
    }

    public Duration duration(String key, Duration low, Duration high, Duration otherwise) {
        return orElse(key, YamlType.duration(low, high), otherwise);
    }

    public boolean bool(String key) {
        return required(key, YamlType.bool());
    }

    public boolean bool(String key, boolean otherwise) {
        return orElse(key, YamlType.bool(), otherwise);
    }

    public <E extends Enum<E>> E oneOf(String key, Class<E> type, Function<E, String> word) {
        return required(key, YamlType.oneOf(type, word));
    }

    public <E extends Enum<E>> E oneOf(String key, Class<E> type, Function<E, String> word, E otherwise) {
        return orElse(key, YamlType.oneOf(type, word), otherwise);
    }

    /** The mapping under a key; an empty one if the key is not there or has no value, so that its defaults apply. */
    public YamlMap map(String key) {
        return optionalMap(key).orElseGet(() -> open(path(key), line, Optional.empty()));
    }

    /** The mapping under a key, if the key is there. */
    public Optional<YamlMap> optionalMap(String key) {
        asked.add(key);
        Node node = nodes.get(key);
        if (node == null) {
            return Optional.empty();
        }
        int keyLine = lineOf(key);
        if (node instanceof MappingNode mapping) {
            return Optional.of(open(path(key), keyLine, Optional.of(mapping)));
        }
        if (!NodeWords.isNull(node)) {
            problem(key, "must be keys with values, found " + NodeWords.of(node));
        }
        return Optional.of(open(path(key), keyLine, Optional.empty()));
    }

    /** A mapping whose keys are free, e.g. the names of model groups, and whose values are mappings; in order. */
    public Map<String, YamlMap> maps(String key) {
        YamlMap parent = map(key);
        Map<String, YamlMap> result = new LinkedHashMap<>();
        parent.keys().forEach(name -> result.put(name, parent.map(name)));
        return result;
    }

    /** A mapping whose keys are free and whose values are single; in order. */
    public <T> Map<String, T> values(String key, YamlType<T> type) {
        YamlMap parent = map(key);
        Map<String, T> result = new LinkedHashMap<>();
        parent.keys().forEach(name -> parent.optional(name, type).ifPresent(value -> result.put(name, value)));
        return result;
    }

    /** A list of single values; empty if the key is not there. From outside, values are separated by commas. */
    public <T> List<T> list(String key, YamlType<T> type) {
        asked.add(key);
        List<T> result = new ArrayList<>();
        Optional<YamlOverride> override = context.override(path(key));
        if (override.isPresent()) {
            for (String part : override.get().text().split(",", -1)) {
                context.parseOutside(path(key), part.strip(), type).ifPresent(result::add);
            }
            return result;
        }
        List<Node> items = items(key);
        for (int i = 0; i < items.size(); i++) {
            Node item = items.get(i);
            context.parse(path(key) + '[' + i + ']', Lines.of(item), item, type).ifPresent(result::add);
        }
        return result;
    }

    /**
     * A list whose items are single values or mappings, in order; empty if the key is not there.
     *
     * @param single what becomes of a single value
     * @param mapping what becomes of a mapping
     */
    public <V, T> List<T> mixedList(String key, YamlType<V> type, Function<V, T> single, Function<YamlMap, T> mapping) {
        asked.add(key);
        List<T> result = new ArrayList<>();
        List<Node> items = items(key);
        for (int i = 0; i < items.size(); i++) {
            Node item = items.get(i);
            String itemPath = path(key) + '[' + i + ']';
            if (item instanceof MappingNode map) {
                result.add(mapping.apply(open(itemPath, Lines.of(item), Optional.of(map))));
            } else {
                context.parse(itemPath, Lines.of(item), item, type).map(single).ifPresent(result::add);
            }
        }
        return result;
    }

    /** A list of mappings; empty if the key is not there. */
    public List<YamlMap> mapList(String key) {
        asked.add(key);
        List<YamlMap> result = new ArrayList<>();
        List<Node> items = items(key);
        for (int i = 0; i < items.size(); i++) {
            Node item = items.get(i);
            String itemPath = path(key) + '[' + i + ']';
            if (item instanceof MappingNode mapping) {
                result.add(open(itemPath, Lines.of(item), Optional.of(mapping)));
            } else {
                context.add(itemPath, Lines.of(item), "must be keys with values, found " + NodeWords.of(item));
            }
        }
        return result;
    }

    private List<Node> items(String key) {
        Node node = nodes.get(key);
        if (node instanceof SequenceNode sequence) {
            return sequence.getValue();
        }
        if (node != null && !NodeWords.isNull(node)) {
            problem(key, "must be a list, found " + NodeWords.of(node));
        }
        return List.of();
    }

    private YamlMap open(String childPath, int childLine, Optional<MappingNode> node) {
        // Opened twice, it is the same mapping: what was asked for the first time stays known.
        return opened.computeIfAbsent(childPath, p -> new YamlMap(context, p, childLine, node));
    }

    private String path(String key) {
        return path.isEmpty() ? key : path + '.' + key;
    }

    private int lineOf(String key) {
        return keyLines.getOrDefault(key, line);
    }

    void reportUnknownKeys() {
        keyLines.forEach((key, keyLine) -> {
            if (!asked.contains(key)) {
                context.add(path(key), keyLine, "is not a known key" + NearestKey.hint(key, asked));
            }
        });
        opened.values().forEach(YamlMap::reportUnknownKeys);
    }
}
