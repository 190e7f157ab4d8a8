package dev.rimecast.analytics.policy;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.yaml.Range;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.TreeSet;

/** A policy as numbers that people look at and change: every number by its path below {@code all}, in the order of the file. */
public final class PolicyForm {
    private static final PolicyForm STANDARD = new PolicyForm();

    private final Map<String, Entry> entries = new LinkedHashMap<>();

    /**
     * A number.
     *
     * @param path as in {@link dev.rimecast.telemetry.finding.Ground#entry}
     * @param standard as the product has it
     * @param unit as in {@link dev.rimecast.telemetry.finding.Ground#unit}
     * @param text what {@code policy.yaml} says above it
     */
    public record Entry(String path, double standard, Range range, String unit, String text, Threshold threshold) {
        /** What it is in a policy. */
        double in(GroupPolicy numbers) {
            return threshold instanceof PolicyNumber number
                    ? numbers.get(number)
                    : numbers.get(
                            ((Threshold.OfFeature) threshold).feature(), ((Threshold.OfFeature) threshold).number());
        }
    }

    /**
     * A number that two policies have otherwise.
     *
     * @param group model group; empty for every machine that no group says otherwise of
     */
    public record Difference(Optional<String> group, String path, double before, double after) {}

    private PolicyForm() {
        PolicyGuide guide = PolicyGuide.standard();
        for (PolicyNumber number : PolicyNumber.values()) {
            String path = Grounding.path(number);
            put(guide, path, number.range(), Grounding.unit(number.key()), number);
        }
        for (Feature feature : Feature.values()) {
            for (FeatureNumber number : FeatureNumber.values()) {
                Threshold.OfFeature of = new Threshold.OfFeature(feature, number);
                put(guide, Grounding.path(of), number.range(), Grounding.unit(of), of);
            }
        }
    }

    private void put(PolicyGuide guide, String path, Range range, String unit, Threshold threshold) {
        PolicyGuide.Explained explained = guide.of(path).orElseThrow();
        entries.put(path, new Entry(path, explained.standard(), range, unit, explained.text(), threshold));
    }

    /** The one form that there is. */
    public static PolicyForm standard() {
        return STANDARD;
    }

    public List<Entry> entries() {
        return List.copyOf(entries.values());
    }

    public Optional<Entry> entry(String path) {
        return Optional.ofNullable(entries.get(path));
    }

    /** What the number is for every machine that no model group says otherwise of. */
    public static double value(Policy policy, Entry entry) {
        return entry.in(policy.forGroup(Optional.empty()));
    }

    /** What model groups have otherwise. */
    public static Map<String, Double> ofGroups(Policy policy, Entry entry) {
        Map<String, Double> own = new TreeMap<>();
        for (String group : policy.groups()) {
            double value = entry.in(policy.forGroup(Optional.of(group)));
            if (value != value(policy, entry)) {
                own.put(group, value);
            }
        }
        return own;
    }

    /** What differs, for every machine first, then by model group. */
    public static List<Difference> differences(Policy before, Policy after) {
        List<Difference> differences = new ArrayList<>();
        collect(Optional.empty(), before, after, differences);
        TreeSet<String> groups = new TreeSet<>(before.groups());
        groups.addAll(after.groups());
        groups.forEach(group -> collect(Optional.of(group), before, after, differences));
        return List.copyOf(differences);
    }

    private static void collect(Optional<String> group, Policy before, Policy after, List<Difference> into) {
        GroupPolicy was = before.forGroup(group);
        GroupPolicy is = after.forGroup(group);
        for (Entry entry : STANDARD.entries.values()) {
            double old = entry.in(was);
            double now = entry.in(is);
            boolean isOfAll = group.isPresent() && old == value(before, entry) && now == value(after, entry);
            if (old != now && !isOfAll) {
                into.add(new Difference(group, entry.path(), old, now));
            }
        }
    }
}
