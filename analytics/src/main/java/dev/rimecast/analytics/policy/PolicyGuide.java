package dev.rimecast.analytics.policy;

import dev.rimecast.telemetry.cycle.Feature;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * What {@code policy.yaml} says of each of its numbers: its value in the standard, and the lines written above it, which give
 * the unit and what moves when it changes. Of a number about features the lines stand above all of them.
 */
public final class PolicyGuide {
    private static final String FEATURES = "features";
    private static final String SPREAD = "; *_spread: ";

    private final Map<String, Explained> entries = new HashMap<>();

    private PolicyGuide() {}

    /**
     * A number and what it is about.
     *
     * @param standard as the product has it
     */
    public record Explained(double standard, String text) {}

    /** Of the policy that comes with the product. */
    public static PolicyGuide standard() {
        Map<String, String> texts = texts(Policy.standard().yaml());
        GroupPolicy all = Policy.standard().forGroup(Optional.empty());
        PolicyGuide guide = new PolicyGuide();
        for (PolicyNumber number : PolicyNumber.values()) {
            String path = Grounding.path(number);
            guide.entries.put(path, new Explained(all.get(number), texts.getOrDefault(path, "")));
        }
        for (Feature feature : Feature.values()) {
            for (FeatureNumber number : FeatureNumber.values()) {
                String path = Grounding.path(new Threshold.OfFeature(feature, number));
                String text = texts.getOrDefault(FEATURES + '.' + number.key(), "");
                guide.entries.put(path, new Explained(all.get(feature, number), text));
            }
        }
        return guide;
    }

    /** @param entry as in {@link dev.rimecast.telemetry.finding.Ground#entry} */
    public Optional<Explained> of(String entry) {
        return Optional.ofNullable(entries.get(entry));
    }

    /** The comment above each key of the third level, by its path; those above {@code features} by the number they begin with. */
    private static Map<String, String> texts(String yaml) {
        Map<String, String> texts = new HashMap<>();
        List<String> comment = new ArrayList<>();
        String section = "";
        for (String line : yaml.lines().toList()) {
            String stripped = line.strip();
            if (stripped.startsWith("#")) {
                comment.add(stripped.substring(1).strip());
                continue;
            }
            int indent = line.length() - line.stripLeading().length();
            String key = stripped.contains(":") ? stripped.substring(0, stripped.indexOf(':')) : "";
            if (indent == 2 && !key.isEmpty()) {
                section = key;
                if (key.equals(FEATURES)) {
                    byFirstWord(comment, texts);
                }
            } else if (indent == 4 && !section.equals(FEATURES)) {
                texts.put(section + '.' + key, String.join(" ", comment));
            }
            comment.clear();
        }
        return texts;
    }

    /**
     * Lines such as {@code ambient_slope, water_slope: change per kelvin; *_spread: how sure that is.}: a line that begins with
     * no number goes on with the one before. What {@code *_spread} says is of the spreads of those numbers.
     */
    private static void byFirstWord(List<String> comment, Map<String, String> texts) {
        Set<String> keys =
                Stream.of(FeatureNumber.values()).map(FeatureNumber::key).collect(Collectors.toSet());
        List<String> latest = List.of();
        for (String line : comment) {
            int colon = line.indexOf(':');
            List<String> begun =
                    colon < 0 ? List.of() : List.of(line.substring(0, colon).split(", ", -1));
            boolean begins = !begun.isEmpty() && keys.containsAll(begun);
            latest = begins ? begun : latest;
            String text = begins ? line.substring(colon + 1).strip() : line;
            latest.forEach(key -> texts.merge(FEATURES + '.' + key, text, (before, more) -> before + ' ' + more));
        }
        for (String key : keys) {
            String text = texts.getOrDefault(FEATURES + '.' + key, "");
            int spread = text.indexOf(SPREAD);
            if (spread >= 0) {
                texts.put(FEATURES + '.' + key, text.substring(0, spread) + '.');
                texts.put(FEATURES + '.' + key + "_spread", text.substring(spread + SPREAD.length()));
            }
        }
        // said once, with those of the other slopes
        String unsure = texts.getOrDefault(FEATURES + ".ambient_slope_spread", "");
        texts.putIfAbsent(FEATURES + ".cold_slope_spread", unsure);
    }
}
