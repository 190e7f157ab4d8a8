package dev.rimecast.alerts.visits.plan;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;

/**
 * A part that takes days to come, for something that an engineer must come for.
 *
 * @param part as the advice words it
 * @param days from the order until it is there
 * @param isNeeded whether planning waits for it; else it goes along only where it is at hand
 * @param since the day on which planning takes it to be ordered; nobody has said so
 */
public record PartOrder(String part, int days, boolean isNeeded, LocalDate since) {

    /** Of several needs: each part once, as soon as any of them asks for it; the slowest of those that are needed first. */
    public static List<PartOrder> together(Collection<PartOrder> orders) {
        List<PartOrder> all = new ArrayList<>();
        for (PartOrder order : orders) {
            int known = 0;
            while (known < all.size() && !all.get(known).part.equals(order.part)) {
                known++;
            }
            if (known == all.size()) {
                all.add(order);
            } else {
                all.set(known, all.get(known).or(order));
            }
        }
        all.sort(Comparator.comparing((PartOrder order) -> !order.isNeeded)
                .thenComparing(Comparator.comparingInt(PartOrder::days).reversed())
                .thenComparing(PartOrder::part));
        return List.copyOf(all);
    }

    /** The last day on which it can be ordered for a visit of that day: calendar days, as {@code parts.csv} counts them. */
    public LocalDate orderBy(LocalDate visit) {
        return visit.minusDays(days);
    }

    private PartOrder or(PartOrder other) {
        return new PartOrder(part, days, isNeeded || other.isNeeded, since.isBefore(other.since) ? since : other.since);
    }
}
