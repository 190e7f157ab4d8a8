package dev.rimecast.analytics.diagnosis;

import dev.rimecast.analytics.expect.FeatureScale;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.yaml.Range;
import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** The matrix of faults and symptoms: the resource {@code symptoms.yaml}. */
final class SymptomMatrix {
    static final List<Symptoms> LINES = read();

    private SymptomMatrix() {}

    private static List<Symptoms> read() {
        try (InputStream in = SymptomMatrix.class.getResourceAsStream("symptoms.yaml")) {
            if (in == null) {
                throw new IllegalStateException("the resource symptoms.yaml is missing from the jar");
            }
            String text = new String(in.readAllBytes(), StandardCharsets.UTF_8);
            return Yaml.read("symptoms.yaml", text, SymptomMatrix::lines);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static List<Symptoms> lines(YamlMap map) {
        List<Symptoms> lines = new ArrayList<>();
        for (String code : map.keys()) {
            YamlMap line = map.map(code);
            Optional<Cause> cause = Cause.ofCode(code);
            if (cause.isEmpty()) {
                map.problem(code, "is not a cause");
                continue;
            }
            lines.add(new Symptoms(
                    cause.get(),
                    line.number("prior", Range.above(0)),
                    line.oneOf("course", Course.class, Course::code),
                    line.bool("after_work", false),
                    line.mapList("at").stream().map(SymptomMatrix::point).toList(),
                    features(line)));
        }
        return List.copyOf(lines);
    }

    private static Map<Feature, Double> point(YamlMap map) {
        Map<Feature, Double> changes = new EnumMap<>(Feature.class);
        for (Feature feature : Feature.values()) {
            map.optionalNumber(key(feature), Range.of(-50, 100))
                    .ifPresent(share -> changes.put(feature, FeatureScale.step(feature, share)));
        }
        return changes;
    }

    private static Set<Feature> features(YamlMap line) {
        Set<Feature> features = EnumSet.noneOf(Feature.class);
        features.addAll(line.list("if_freeze_ends_by_temperature", YamlType.oneOf(Feature.class, SymptomMatrix::key)));
        return features;
    }

    static String key(Feature feature) {
        return feature.name().toLowerCase(Locale.ROOT);
    }
}
