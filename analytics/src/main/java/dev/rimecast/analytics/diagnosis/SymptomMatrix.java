package dev.rimecast.analytics.diagnosis;

import dev.rimecast.analytics.expect.FeatureScale;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import dev.rimecast.telemetry.yaml.Range;
import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/** The matrix of faults and symptoms: the resource {@code symptoms.yaml}. */
final class SymptomMatrix {
    /** Nothing takes less than no time. */
    private static final Range SHARE = Range.of(-0.99, 100);

    private static final Range KELVIN = Range.of(-100, 100);

    static final List<Symptoms> LINES = read();

    /** What is not used where the kind of control is unknown. */
    static final Map<Cause, Set<Feature>> DISPUTED = LINES.stream()
            .map(Symptoms::cause)
            .distinct()
            .collect(Collectors.toUnmodifiableMap(cause -> cause, SymptomMatrix::disputed));

    private SymptomMatrix() {}

    private static List<Symptoms> read() {
        String text = Yaml.text(SymptomMatrix.class, "symptoms.yaml");
        return Yaml.read("symptoms.yaml", text, SymptomMatrix::lines);
    }

    private static List<Symptoms> lines(YamlMap map) {
        List<Symptoms> lines = new ArrayList<>();
        for (String name : map.keys()) {
            YamlMap line = map.map(name);
            String code = line.optionalString("cause").orElse(name);
            Optional<Cause> cause = Cause.ofCode(code);
            if (cause.isEmpty()) {
                map.problem(name, "'" + code + "' is not a cause");
                continue;
            }
            lines.add(new Symptoms(
                    cause.get(),
                    line.number("prior", Range.above(0)),
                    line.oneOf("course", Course.class, Course::code),
                    line.bool("after_work", false),
                    line.bool("after_visit", false),
                    line.bool("comes_whole", false),
                    line.oneOf("drain_signals", DrainSignals.class, DrainSignals::code, DrainSignals.EITHER),
                    line.mapList("at").stream().map(SymptomMatrix::point).toList(),
                    endsBy(line, "if_freeze_ends_by"),
                    endsBy(line, "if_fill_ends_by")));
        }
        return List.copyOf(lines);
    }

    /** Features whose change by this cause has another sign, or is none, on another kind of control. */
    private static Set<Feature> disputed(Cause cause) {
        Set<Feature> disputed = EnumSet.noneOf(Feature.class);
        List<Symptoms> lines =
                LINES.stream().filter(line -> line.cause() == cause).toList();
        for (Feature feature : Feature.values()) {
            if (lines.stream().map(line -> line.sign(feature)).distinct().count() > 1) {
                disputed.add(feature);
            }
        }
        return disputed;
    }

    private static Map<Feature, Double> point(YamlMap map) {
        Map<Feature, Double> changes = new EnumMap<>(Feature.class);
        for (Feature feature : Feature.values()) {
            map.optionalNumber(key(feature), FeatureScale.isRatio(feature) ? SHARE : KELVIN)
                    .ifPresent(share -> changes.put(feature, FeatureScale.step(feature, share)));
        }
        return changes;
    }

    private static Set<EndsBy> endsBy(YamlMap line, String key) {
        Set<EndsBy> kinds = EnumSet.noneOf(EndsBy.class);
        kinds.addAll(line.list(
                key, YamlType.oneOf(EndsBy.class, kind -> kind.name().toLowerCase(Locale.ROOT))));
        return kinds;
    }

    static String key(Feature feature) {
        return feature.name().toLowerCase(Locale.ROOT);
    }
}
