package dev.rimecast.benchmarks.load;

import dev.rimecast.benchmarks.load.Part.Name;
import java.io.PrintStream;
import java.util.DoubleSummaryStatistics;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Medians of the rounds, and what is held against what. */
final class Report {
    private static final String STREAM = "stream us/pack";

    private final Map<String, Map<String, Double>> figures = new LinkedHashMap<>();

    Report(Map<Name, List<Measure>> found) {
        found.forEach((name, measures) -> {
            Map<String, Double> all = new LinkedHashMap<>();
            all.put("packs/s", median(measures, Measure::packsPerSecond));
            all.put("us/pack", median(measures, Measure::microsPerPack));
            measures.get(0)
                    .more()
                    .keySet()
                    .forEach(key ->
                            all.put(key, median(measures, one -> one.more().getOrDefault(key, Double.NaN))));
            all.put("rounds", (double) measures.size());
            all.put("packs/s least", spread(measures).getMin());
            all.put("packs/s most", spread(measures).getMax());
            figures.put(name.label(), all);
        });
        ratio("ingest / bridge, packs a second", "packs/s", Name.INGEST, Name.BRIDGE);
        ratio("bridge / MQTT echo, packs a second", "packs/s", Name.BRIDGE, Name.ECHO);
        ratio("ingest / Kafka in, packs a second", "packs/s", Name.INGEST, Name.PRODUCE);
        ratio("SenML / bare parse, packs a second", "packs/s", Name.SENML, Name.PARSE);
        ratio("SenML / DuckDB, packs a second", "packs/s", Name.SENML, Name.DUCKDB);
        streams();
        perPack(
                "monitors of all sites / (decode + one monitor)",
                List.of(Name.MONITORS),
                List.of(Name.DECODE, Name.MONITOR));
        perPack(
                "states written behind each pack / monitors of all sites",
                List.of(Name.STATES),
                List.of(Name.MONITORS));
    }

    private void perPack(String title, List<Name> above, List<Name> below) {
        if (figures.keySet()
                .containsAll(Stream.concat(above.stream(), below.stream())
                        .map(Name::label)
                        .toList())) {
            put(title, micros(above) / micros(below));
        }
    }

    private double micros(List<Name> parts) {
        return parts.stream()
                .mapToDouble(
                        part -> figures.getOrDefault(part.label(), Map.of()).getOrDefault("us/pack", Double.NaN))
                .sum();
    }

    private interface Value {
        double of(Measure measure);
    }

    private static double median(List<Measure> measures, Value value) {
        return Measure.median(measures.stream().mapToDouble(value::of).toArray());
    }

    private static DoubleSummaryStatistics spread(List<Measure> measures) {
        return measures.stream().mapToDouble(Measure::packsPerSecond).summaryStatistics();
    }

    private void ratio(String title, String key, Name one, Name other) {
        Map<String, Double> above = figures.get(one.label());
        Map<String, Double> below = figures.get(other.label());
        if (above != null && below != null) {
            put(title, above.getOrDefault(key, Double.NaN) / below.getOrDefault(key, Double.NaN));
        }
    }

    /** What the stream's thread takes beside what it would take for counting, and decoding and monitoring without Streams. */
    private void streams() {
        Map<String, Double> analytics = figures.get(Name.ANALYTICS.label());
        Map<String, Double> counting = figures.get(Name.COUNT.label());
        Map<String, Double> decode = figures.get(Name.DECODE.label());
        Map<String, Double> monitor = figures.get(Name.MONITOR.label());
        if (analytics != null && counting != null && decode != null && monitor != null) {
            double parts = counting.getOrDefault(STREAM, Double.NaN)
                    + decode.getOrDefault("us/pack", Double.NaN)
                    + monitor.getOrDefault("us/pack", Double.NaN);
            put(
                    "analytics / (counting + decode + monitor), processor time",
                    analytics.getOrDefault(STREAM, Double.NaN) / parts);
        }
    }

    private void put(String title, double value) {
        figures.computeIfAbsent("ratios", unused -> new LinkedHashMap<>()).put(title, value);
    }

    Map<String, Map<String, Double>> figures() {
        return figures;
    }

    void print(PrintStream out) {
        out.printf("%-12s %12s %10s%n", "", "packs/s", "us/pack");
        figures.forEach((part, all) -> {
            if (!part.equals("ratios")) {
                out.printf(
                        Locale.ROOT,
                        "%-12s %,12.0f %10.1f  %s%n",
                        part,
                        all.getOrDefault("packs/s", 0.0),
                        all.getOrDefault("us/pack", 0.0),
                        all.entrySet().stream()
                                .skip(2)
                                .map(e -> String.format(Locale.ROOT, "%s %,.1f", e.getKey(), e.getValue()))
                                .collect(Collectors.joining(", ")));
            }
        });
        figures.getOrDefault("ratios", Map.of())
                .forEach((title, value) -> out.printf(Locale.ROOT, "%5.2f  %s%n", value, title));
    }

    /** @param run under what it was measured */
    static String json(Map<String, ?> run, Map<String, Map<String, Double>> figures) {
        Map<String, Map<String, ?>> all = new LinkedHashMap<>();
        all.put("run", run);
        all.putAll(figures);
        return all.entrySet().stream()
                .map(part -> quoted(part.getKey()) + ": "
                        + part.getValue().entrySet().stream()
                                .map(figure -> quoted(figure.getKey()) + ": " + value(figure.getValue()))
                                .collect(Collectors.joining(", ", "{", "}")))
                .collect(Collectors.joining(",\n  ", "{\n  ", "\n}\n"));
    }

    private static String value(Object value) {
        boolean isNumber = value instanceof Number number && Double.isFinite(number.doubleValue());
        return isNumber ? value.toString() : value instanceof Number ? "null" : quoted(value.toString());
    }

    private static String quoted(String text) {
        return '"' + text.replace("\\", "\\\\").replace("\"", "\\\"") + '"';
    }
}
