package dev.rimecast.alerts.visits.plan;

import java.util.Collection;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * How long parts take to come, in days from the order. What is not named is in the van.
 *
 * @param days by the part's name in lower case
 * @param isKnown whether a file says so
 */
public record PartLeads(Map<String, Integer> days, boolean isKnown) {
    public static final PartLeads IN_STOCK = new PartLeads(Map.of(), false);

    public PartLeads {
        Map<String, Integer> plain = new HashMap<>();
        days.forEach((part, lead) -> plain.put(plain(part), lead));
        days = Map.copyOf(plain);
    }

    /** The part that comes last, and how many days it takes. */
    public record Slowest(String part, int days) {}

    /** Of parts as the advice words them: what stands after a comma is a condition, not the part. */
    public Optional<Slowest> slowest(Collection<String> parts) {
        return parts.stream()
                .map(part -> new Slowest(part, days.getOrDefault(plain(part.split(",", 2)[0]), 0)))
                .filter(slow -> slow.days() > 0)
                .max(java.util.Comparator.comparingInt(Slowest::days)
                        .thenComparing(
                                java.util.Comparator.comparing(Slowest::part).reversed()));
    }

    private static String plain(String part) {
        return part.strip().toLowerCase(Locale.ROOT);
    }
}
