package dev.rimecast.history.tune;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyForm;
import dev.rimecast.analytics.policy.PolicyText;
import dev.rimecast.history.backtest.LogRun;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;

/**
 * A policy with some numbers changed.
 *
 * @param changed path below {@code all}, and the value tried; empty: the policy as it is
 */
public record Variant(Map<String, Double> changed, Policy policy) {
    /** So many at a time: each has a monitor for each machine. */
    public static final int MOST = 64;

    public Variant {
        changed = new LinkedHashMap<>(changed);
    }

    /**
     * Every combination, the policy as it is first.
     *
     * @throws IllegalArgumentException if there are too many
     * @throws dev.rimecast.telemetry.yaml.YamlProblems if a path or a value is none
     */
    public static List<Variant> of(Policy base, List<Sweep> sweeps) {
        List<Map<String, Double>> combinations = new ArrayList<>();
        combinations.add(Map.of());
        for (Sweep sweep : sweeps) {
            List<Map<String, Double>> more = new ArrayList<>();
            for (Map<String, Double> before : combinations) {
                for (double value : sweep.values()) {
                    Map<String, Double> with = new LinkedHashMap<>(before);
                    with.put(sweep.path(), value);
                    more.add(with);
                }
            }
            combinations = more;
            if (combinations.size() >= MOST) {
                throw new IllegalArgumentException(
                        "these are " + combinations.size() + " combinations or more, and the most is " + (MOST - 1)
                                + ": leave values out, or try one number after the other");
            }
        }
        List<Variant> variants = new ArrayList<>();
        variants.add(new Variant(Map.of(), base));
        combinations.stream()
                .filter(changed -> !changed.isEmpty())
                .forEach(changed -> variants.add(
                        new Variant(changed, Policy.parse(PolicyText.of(base, base.version() + "-tuned", changed)))));
        return List.copyOf(variants);
    }

    /** How far each is from the policy as it is: for each number, values of the sweep between its own and the policy's. */
    static int[] steps(List<Variant> variants) {
        Policy base = variants.get(0).policy();
        Map<String, TreeSet<Double>> tried = new LinkedHashMap<>();
        variants.forEach(variant -> variant.changed()
                .forEach((path, value) ->
                        tried.computeIfAbsent(path, each -> new TreeSet<>()).add(value)));
        tried.forEach((path, values) -> values.add(value(base, path)));
        return variants.stream()
                .mapToInt(variant -> variant.changed().entrySet().stream()
                        .mapToInt(changed -> {
                            TreeSet<Double> values = tried.getOrDefault(changed.getKey(), new TreeSet<>());
                            double from = value(base, changed.getKey());
                            return Math.abs(values.headSet(from).size()
                                    - values.headSet(changed.getValue()).size());
                        })
                        .sum())
                .toArray();
    }

    private static double value(Policy policy, String path) {
        return PolicyForm.standard()
                .entry(path)
                .map(entry -> PolicyForm.value(policy, entry))
                .orElseThrow();
    }

    /** What is tried, in a few words. */
    public String name() {
        if (changed.isEmpty()) {
            return "as it is";
        }
        StringBuilder name = new StringBuilder();
        changed.forEach((path, value) -> name.append(name.isEmpty() ? "" : ", ")
                .append(path.substring(path.lastIndexOf('.') + 1))
                .append(' ')
                .append(Sweep.shortest(value)));
        return name.toString();
    }

    /** For a run over the log. */
    public LogRun.Trial trial() {
        return new LogRun.Trial(name(), Optional.of(policy));
    }
}
