package dev.rimecast.alerts.life;

import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.time.Duration;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * {@code life.yaml}: which conditions latch, how long something may be put aside, and what suppresses what.
 *
 * @param longestShelf how long something may be put aside at most
 * @param latching conditions that must be looked at and reset
 */
public record LifeBook(
        String version, Duration longestShelf, Set<Condition> latching, Map<Circumstance, Suppression> suppressions) {

    /**
     * What one circumstance makes meaningless.
     *
     * @param words why, as a page says it after "not counted: "
     */
    public record Suppression(Circumstance circumstance, String words, Set<Condition> conditions) {
        public Suppression {
            conditions = Set.copyOf(conditions);
        }
    }

    public LifeBook {
        latching = Set.copyOf(latching);
        suppressions = Map.copyOf(suppressions);
    }

    /** The book that comes with the product. */
    public static LifeBook standard() {
        return parse("life.yaml", Yaml.text(LifeBook.class, "life.yaml"));
    }

    /**
     * @param source what problems call the text
     * @throws dev.rimecast.telemetry.yaml.YamlProblems with everything that is missing or wrong
     */
    public static LifeBook parse(String source, String yaml) {
        return Yaml.read(source, yaml, document -> {
            Map<Circumstance, Suppression> suppressions = new EnumMap<>(Circumstance.class);
            YamlMap rules = document.map("suppressed_by_design");
            for (Circumstance circumstance : Circumstance.values()) {
                YamlMap rule = rules.map(circumstance.code());
                suppressions.put(
                        circumstance,
                        new Suppression(circumstance, rule.string("words"), conditions(rule, "conditions")));
            }
            return new LifeBook(
                    document.string("version"),
                    document.duration("longest_shelf", Duration.ofHours(1), Duration.ofDays(90)),
                    conditions(document, "latching"),
                    suppressions);
        });
    }

    private static Set<Condition> conditions(YamlMap map, String key) {
        Set<Condition> conditions = EnumSet.noneOf(Condition.class);
        conditions.addAll(map.list(key, YamlType.oneOf(Condition.class, Condition::code)));
        return conditions;
    }

    public boolean latches(Condition condition) {
        return latching.contains(condition);
    }

    /** What suppresses a condition under these circumstances; of several the first in the order of the constants. */
    public Optional<Suppression> suppression(Condition condition, Set<Circumstance> circumstances) {
        return circumstances.stream()
                .sorted()
                .flatMap(circumstance -> Optional.ofNullable(suppressions.get(circumstance)).stream())
                .filter(suppression -> suppression.conditions().contains(condition))
                .findFirst();
    }

    /** Every condition that something suppresses. */
    public Set<Condition> suppressible() {
        Set<Condition> all = EnumSet.noneOf(Condition.class);
        suppressions.values().forEach(suppression -> all.addAll(suppression.conditions()));
        return all;
    }
}
