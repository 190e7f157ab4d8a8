package dev.rimecast.history.tune;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyText;
import dev.rimecast.history.backtest.LogRun;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

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
