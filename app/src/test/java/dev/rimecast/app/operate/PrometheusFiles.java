package dev.rimecast.app.operate;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.snakeyaml.engine.v2.api.Load;
import org.snakeyaml.engine.v2.api.LoadSettings;

/** What is in {@code deploy/prometheus} for whoever runs the product. */
public final class PrometheusFiles {
    public static final Path DIRECTORY = Path.of("../deploy/prometheus");
    public static final Path RULES = DIRECTORY.resolve("rimecast.rules.yml");
    private static final Path TESTS = DIRECTORY.resolve("rimecast.rules.test.yml");

    /** Families of ours, of Java and of the pool, as they are scraped. */
    private static final Pattern METRIC = Pattern.compile("\\b(?:rimecast|jvm|process|system|hikaricp)_[a-z0-9_]+");

    private PrometheusFiles() {}

    private static Map<?, ?> read(Path file) throws IOException {
        return (Map<?, ?>) new Load(LoadSettings.builder().build()).loadFromString(Files.readString(file));
    }

    private static List<Map<?, ?>> maps(@Nullable Object list) {
        List<Map<?, ?>> maps = new ArrayList<>();
        ((List<?>) Objects.requireNonNull(list)).forEach(each -> maps.add((Map<?, ?>) each));
        return maps;
    }

    /** Expressions by the name of their alert or record. */
    static Map<String, String> rules(String kind) throws IOException {
        Map<String, String> rules = new LinkedHashMap<>();
        for (Map<?, ?> group : maps(read(RULES).get("groups"))) {
            for (Map<?, ?> rule : maps(group.get("rules"))) {
                if (rule.containsKey(kind)) {
                    rules.put(String.valueOf(rule.get(kind)), String.valueOf(rule.get("expr")));
                }
            }
        }
        return rules;
    }

    /** Every metric that a rule asks for. */
    public static Set<String> metrics() throws IOException {
        Set<String> metrics = new TreeSet<>();
        for (String kind : List.of("alert", "record")) {
            for (String expression : rules(kind).values()) {
                Matcher found = METRIC.matcher(expression);
                while (found.find()) {
                    metrics.add(found.group());
                }
            }
        }
        return metrics;
    }

    /** By the alert's name: whether a test says that it fires, and whether one says that it does not. */
    static Map<String, Set<Boolean>> tested() throws IOException {
        Map<String, Set<Boolean>> tested = new LinkedHashMap<>();
        for (Map<?, ?> test : maps(read(TESTS).get("tests"))) {
            for (Map<?, ?> check : maps(test.get("promql_expr_test"))) {
                Matcher name = Pattern.compile("alertname=\"(\\w+)\"").matcher(String.valueOf(check.get("expr")));
                if (name.find()) {
                    tested.computeIfAbsent(name.group(1), alert -> new TreeSet<>())
                            .add(!((List<?>) Objects.requireNonNull(check.get("exp_samples"))).isEmpty());
                }
            }
        }
        return tested;
    }
}
