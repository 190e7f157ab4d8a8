package dev.rimecast.alerts.visits.plan;

import java.time.LocalDate;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * How long parts take to come, in days from the order. What is not named is in the van.
 *
 * @param days by the part's name in lower case
 * @param lines of the file, by the same name
 * @param isKnown whether a file says so
 */
public record PartLeads(Map<String, Integer> days, Map<String, Long> lines, boolean isKnown) {
    public static final PartLeads IN_STOCK = new PartLeads(Map.of(), false);

    private static final Pattern NOT_OF_THE_NAME = Pattern.compile("[,(].*");

    public PartLeads {
        days = plain(days);
        lines = plain(lines);
    }

    public PartLeads(Map<String, Integer> days, boolean isKnown) {
        this(days, Map.of(), isKnown);
    }

    private static <T> Map<String, T> plain(Map<String, T> named) {
        Map<String, T> plain = new HashMap<>();
        named.forEach((part, value) -> plain.put(plain(part), value));
        return Map.copyOf(plain);
    }

    /**
     * Which parts take time to come.
     *
     * @param parts as the advice words them
     * @param needed those of them that must be there
     * @param since from when their days count
     */
    public List<PartOrder> orders(Collection<String> parts, Collection<String> needed, LocalDate since) {
        return PartOrder.together(parts.stream()
                .map(part -> new PartOrder(part, days.getOrDefault(nameOf(part), 0), needed.contains(part), since))
                .filter(order -> order.days() > 0)
                .toList());
    }

    /**
     * What no advice names, so that it holds back nothing.
     *
     * @param advised parts as the advice words them
     * @return each with its line, in the file's order
     */
    public List<String> unknown(Collection<String> advised) {
        Set<String> names = advised.stream().map(PartLeads::nameOf).collect(Collectors.toSet());
        return days.keySet().stream()
                .filter(part -> !names.contains(part))
                .sorted(Comparator.comparingLong((String part) -> lines.getOrDefault(part, 0L))
                        .thenComparing(Comparator.naturalOrder()))
                .map(part -> "line " + lines.getOrDefault(part, 0L) + ": " + part)
                .toList();
    }

    /** What stands after a comma or in brackets is a condition, not the part. */
    static String nameOf(String part) {
        return plain(NOT_OF_THE_NAME.matcher(part).replaceFirst(""));
    }

    private static String plain(String part) {
        return part.strip().toLowerCase(Locale.ROOT);
    }
}
