package dev.rimecast.analytics.policy;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Ground.Source;
import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlMap;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** From the text of a policy to its numbers. */
final class PolicyReader {
    private PolicyReader() {}

    /** Values as read so far, to be laid under the next. */
    private record Numbers(double[] plain, double[][] features, Source[] sources, Source[][] featureSources) {
        GroupPolicy toGroup() {
            return new GroupPolicy(plain, features, sources, featureSources);
        }
    }

    /** A policy in which every number is given. */
    static Policy readStandard(String yaml) {
        return Yaml.read("policy.yaml", yaml, map -> read(map, yaml, Optional.empty()));
    }

    /** A policy in which what is not given is as in the standard one. */
    static Policy read(String source, String yaml) {
        Numbers standard = Yaml.read("policy.yaml", StandardPolicy.POLICY.yaml(), map -> {
            map.string("version");
            map.maps("groups");
            return numbers(map.map("all"), Source.STANDARD, Optional.empty());
        });
        return Yaml.read(source, yaml, map -> read(map, yaml, Optional.of(standard)));
    }

    private static Policy read(YamlMap map, String yaml, Optional<Numbers> under) {
        String version = map.string("version");
        Source ofAll = under.isPresent() ? Source.POLICY : Source.STANDARD;
        Numbers all = numbers(map.map("all"), ofAll, under);
        Map<String, GroupPolicy> groups = new LinkedHashMap<>();
        map.maps("groups")
                .forEach((name, group) -> groups.put(
                        name,
                        numbers(group, Source.MODEL_GROUP, Optional.of(all)).toGroup()));
        return new Policy(version, yaml, all.toGroup(), groups);
    }

    /** @param source whose numbers these are, where they are given */
    private static Numbers numbers(YamlMap map, Source source, Optional<Numbers> under) {
        PolicyNumber[] numbers = PolicyNumber.values();
        double[] plain = new double[numbers.length];
        Source[] sources = new Source[numbers.length];
        Map<String, YamlMap> sections = new LinkedHashMap<>();
        for (PolicyNumber number : numbers) {
            YamlMap section = sections.computeIfAbsent(number.section(), map::map);
            int i = number.ordinal();
            boolean isGiven = under.isEmpty() || section.has(number.key());
            sources[i] = isGiven ? source : under.get().sources[i];
            plain[i] = isGiven ? section.number(number.key(), number.range()) : under.get().plain[i];
        }
        YamlMap featureMaps = map.map("features");
        double[][] features = new double[Feature.values().length][];
        Source[][] featureSources = new Source[features.length][];
        for (Feature feature : Feature.values()) {
            int f = feature.ordinal();
            features[f] = new double[FeatureNumber.values().length];
            featureSources[f] = new Source[features[f].length];
            YamlMap section = featureMaps.map(feature.name().toLowerCase(Locale.ROOT));
            for (FeatureNumber number : FeatureNumber.values()) {
                int i = number.ordinal();
                boolean isGiven = under.isEmpty() || section.has(number.key());
                featureSources[f][i] = isGiven ? source : under.get().featureSources[f][i];
                features[f][i] = isGiven ? section.number(number.key(), number.range()) : under.get().features[f][i];
            }
        }
        return new Numbers(plain, features, sources, featureSources);
    }
}
