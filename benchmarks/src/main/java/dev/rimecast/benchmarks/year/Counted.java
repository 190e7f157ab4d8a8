package dev.rimecast.benchmarks.year;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** What comes to somebody, each with its time and what it is about, and the figures that the publications ask of that. */
final class Counted {
    private static final Duration WINDOW = Duration.ofMinutes(10);
    private static final Duration DAY = Duration.ofDays(1);
    private static final int FLOOD_BEGINS_ABOVE = 10;
    private static final int FLOOD_ENDS_BELOW = 5;
    private static final int MOST_FREQUENT = 10;

    private final Instant from;
    private final List<Instant> times = new ArrayList<>();
    private final Map<String, Integer> subjects = new HashMap<>();

    Counted(Instant from) {
        this.from = from;
    }

    void add(Instant at, String about) {
        times.add(at);
        subjects.merge(about, 1, Integer::sum);
    }

    int size() {
        return times.size();
    }

    double perDay(Duration length) {
        return times.size() / (double) length.toDays();
    }

    double perWindow(Duration length) {
        return times.size() / (double) length.dividedBy(WINDOW);
    }

    int worstDay() {
        return most(DAY);
    }

    int mostInTenMinutes() {
        return most(WINDOW);
    }

    private int most(Duration span) {
        return in(span).values().stream().mapToInt(Integer::intValue).max().orElse(0);
    }

    /** What came at the end of a span belongs to it. */
    private Map<Long, Integer> in(Duration span) {
        Map<Long, Integer> counts = new HashMap<>();
        times.forEach(
                at -> counts.merge(Duration.between(from, at).minusMillis(1).dividedBy(span), 1, Integer::sum));
        return counts;
    }

    /** Share of time: a flood begins with more than ten in ten minutes and ends with fewer than five. */
    double floodShare(Duration length) {
        Map<Long, Integer> counts = in(WINDOW);
        long windows = length.dividedBy(WINDOW);
        long flooded = 0;
        boolean isFlood = false;
        for (long window = 0; window < windows; window++) {
            int count = counts.getOrDefault(window, 0);
            isFlood = count > FLOOD_BEGINS_ABOVE || (isFlood && count >= FLOOD_ENDS_BELOW);
            flooded += isFlood ? 1 : 0;
        }
        return (double) flooded / windows;
    }

    double shareOfTheTenMostFrequent() {
        int ten = subjects.values().stream()
                .sorted(Comparator.reverseOrder())
                .limit(MOST_FREQUENT)
                .mapToInt(Integer::intValue)
                .sum();
        return times.isEmpty() ? 0 : (double) ten / times.size();
    }

    int subjects() {
        return subjects.size();
    }

    static void row(String what, Object... values) {
        StringBuilder row = new StringBuilder("| " + what);
        for (Object value : values) {
            row.append(" | ").append(value);
        }
        System.out.println(row.append(" |"));
    }

    static String number(double value, int digits) {
        return String.format(Locale.ROOT, "%." + digits + "f", value);
    }

    static String percent(double share) {
        return number(100 * share, 1) + " %";
    }

    static double average(Collection<Integer> values) {
        return values.stream().mapToInt(Integer::intValue).average().orElse(0);
    }
}
