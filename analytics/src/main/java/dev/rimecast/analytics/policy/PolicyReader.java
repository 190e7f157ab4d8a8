package dev.rimecast.analytics.policy;

import dev.rimecast.telemetry.cycle.Feature;
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
    private record Numbers(double[] plain, double[][] features) {
        GroupPolicy toGroup() {
            return new GroupPolicy(plain, features);
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
            return numbers(map.map("all"), Optional.empty());
        });
        return Yaml.read(source, yaml, map -> read(map, yaml, Optional.of(standard)));
    }

    private static Policy read(YamlMap map, String yaml, Optional<Numbers> under) {
        String version = map.string("version");
        Numbers all = numbers(map.map("all"), under);
        Map<String, GroupPolicy> groups = new LinkedHashMap<>();
        map.maps("groups")
                .forEach((name, group) ->
                        groups.put(name, numbers(group, Optional.of(all)).toGroup()));
        return new Policy(version, yaml, all.toGroup(), groups);
    }

    private static Numbers numbers(YamlMap map, Optional<Numbers> under) {
        double[] plain = new double[PolicyNumber.values().length];
        Map<String, YamlMap> sections = new LinkedHashMap<>();
        for (PolicyNumber number : PolicyNumber.values()) {
            YamlMap section = sections.computeIfAbsent(number.section(), map::map);
            int i = number.ordinal();
            plain[i] = under.isPresent()
                    ? section.number(number.key(), number.range(), under.get().plain[i])
                    : section.number(number.key(), number.range());
        }
        YamlMap featureMaps = map.map("features");
        double[][] features = new double[Feature.values().length][FeatureNumber.values().length];
        for (Feature feature : Feature.values()) {
            YamlMap section = featureMaps.map(feature.name().toLowerCase(Locale.ROOT));
            for (FeatureNumber number : FeatureNumber.values()) {
                int f = feature.ordinal();
                int i = number.ordinal();
                features[f][i] = under.isPresent()
                        ? section.number(number.key(), number.range(), under.get().features[f][i])
                        : section.number(number.key(), number.range());
            }
        }
        return new Numbers(plain, features);
    }
}
