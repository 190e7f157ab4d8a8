package dev.rimecast.app.operate;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * An answer of {@code /metrics}, read by the grammar of the text format 0.0.4 (Prometheus, "Exposition formats", text-based format). A
 * line that does not fit it fails.
 */
record Scrape(List<Sample> samples, Map<String, String> help, Map<String, String> types) {
    private static final Pattern COMMENT = Pattern.compile("# (HELP|TYPE) ([a-zA-Z_:][a-zA-Z0-9_:]*) ?(.*)");
    private static final Pattern SAMPLE =
            Pattern.compile("([a-zA-Z_:][a-zA-Z0-9_:]*)(?:\\{(.*)})? (NaN|[+-]?Inf|[-+0-9.eE]+)");
    private static final Pattern LABEL = Pattern.compile("([a-zA-Z_][a-zA-Z0-9_]*)=\"((?:[^\"\\\\]|\\\\.)*)\",?");

    /** One line. */
    record Sample(String name, Map<String, String> labels, double value) {}

    static Scrape of(String text) {
        List<Sample> samples = new ArrayList<>();
        Map<String, String> help = new HashMap<>();
        Map<String, String> types = new HashMap<>();
        for (String line : text.split("\n", -1)) {
            Matcher comment = COMMENT.matcher(line);
            Matcher sample = SAMPLE.matcher(line);
            if (comment.matches()) {
                (comment.group(1).equals("HELP") ? help : types).put(comment.group(2), comment.group(3));
            } else if (sample.matches()) {
                String number = sample.group(3).replace("Inf", "Infinity");
                samples.add(new Sample(sample.group(1), labels(sample.group(2)), Double.parseDouble(number)));
            } else if (!line.isEmpty()) {
                throw new AssertionError("no line of the text format: " + line);
            }
        }
        return new Scrape(samples, help, types);
    }

    private static Map<String, String> labels(@org.jspecify.annotations.Nullable String text) {
        Map<String, String> labels = new LinkedHashMap<>();
        if (text != null) {
            Matcher label = LABEL.matcher(text);
            int end = 0;
            while (label.find() && label.start() == end) {
                labels.put(label.group(1), label.group(2));
                end = label.end();
            }
            if (end != text.length()) {
                throw new AssertionError("no labels: " + text);
            }
        }
        return labels;
    }

    Set<String> names() {
        return samples.stream().map(Sample::name).collect(Collectors.toCollection(TreeSet::new));
    }

    /** The sum of all series of a name that have these labels; empty: there is none. */
    OptionalDouble sum(String name, Map<String, String> labels) {
        List<Sample> found = samples.stream()
                .filter(sample ->
                        sample.name().equals(name) && sample.labels().entrySet().containsAll(labels.entrySet()))
                .toList();
        return found.isEmpty()
                ? OptionalDouble.empty()
                : OptionalDouble.of(found.stream().mapToDouble(Sample::value).sum());
    }
}
