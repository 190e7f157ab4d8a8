package dev.rimecast.benchmarks.year;

import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Priority;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;

/**
 * The alerts that the server's pages showed as counting, but for planned care: each from the first look at which it counted,
 * and once more whenever it was raised again after somebody had seen it.
 */
final class Shown {
    private static final Duration STALE = Duration.ofDays(1);
    private static final Duration CHATTERS = Duration.ofMinutes(1);
    private static final int THIRD = 2;

    private final Counted raised;
    private final Map<UUID, AlertState> states = new HashMap<>();
    private final Map<UUID, Priority> first = new HashMap<>();
    private final Map<UUID, Priority> highest = new HashMap<>();
    private final Map<UUID, Instant> ends = new HashMap<>();
    private final Map<String, List<Instant>> times = new HashMap<>();
    private final Set<UUID> held = new HashSet<>();
    private final List<Integer> standing = new ArrayList<>();
    private final List<Integer> stale = new ArrayList<>();
    private int fleeting;
    private int again;

    Shown(Instant from) {
        raised = new Counted(from);
    }

    void look(List<AlertView> open, Instant at) {
        for (AlertView alert : open) {
            UUID id = alert.finding().id();
            AlertState before = states.getOrDefault(id, AlertState.NORMAL);
            states.put(id, alert.state());
            if (alert.state().isHeld()) {
                held.add(id);
            } else if (!first.containsKey(id)) {
                first.put(id, alert.priority());
                add(alert.finding(), at, alert.finding().raisedAt());
            } else if (before == AlertState.ACKNOWLEDGED && alert.state() == AlertState.UNACKNOWLEDGED) {
                again++;
                add(alert.finding(), at, at);
            }
            highest.merge(id, alert.priority(), (a, b) -> a.compareTo(b) <= 0 ? a : b);
            alert.clearedAt().ifPresent(over -> ended(alert.finding(), over));
        }
    }

    /** @param raisedAt by the machine's time, where that is known more exactly than by the looks */
    private void add(Finding finding, Instant at, Instant raisedAt) {
        String about = finding.machine().or(finding::gateway).orElse(finding.site())
                + ' '
                + finding.condition().code();
        raised.add(at, about);
        times.computeIfAbsent(about, a -> new ArrayList<>()).add(raisedAt);
    }

    private void ended(Finding finding, Instant over) {
        if (ends.put(finding.id(), over) == null
                && Duration.between(finding.raisedAt(), over).compareTo(CHATTERS) < 0) {
            fleeting++;
        }
    }

    void noon(List<AlertView> open, Instant at) {
        List<AlertView> there = open.stream().filter(Shown::isStanding).toList();
        standing.add(there.size());
        stale.add((int) there.stream()
                .filter(alert -> alert.finding().raisedAt().isBefore(at.minus(STALE)))
                .count());
    }

    /** It is there, or over and must be reset. */
    private static boolean isStanding(AlertView alert) {
        return alert.state().isActive()
                || alert.state() == AlertState.LATCHED_UNACKNOWLEDGED
                || alert.state() == AlertState.LATCHED_ACKNOWLEDGED;
    }

    private int chattering() {
        int count = 0;
        for (List<Instant> each : times.values()) {
            List<Instant> sorted = each.stream().sorted().toList();
            for (int i = THIRD; i < sorted.size(); i++) {
                Duration span = Duration.between(sorted.get(i - THIRD), sorted.get(i));
                count += span.compareTo(CHATTERS) <= 0 ? 1 : 0;
            }
        }
        return count;
    }

    private static String split(Map<UUID, Priority> priorities) {
        Map<Priority, Integer> counts = new EnumMap<>(Priority.class);
        priorities.values().forEach(priority -> counts.merge(priority, 1, Integer::sum));
        List<String> shares = new ArrayList<>();
        List<Priority> order = new ArrayList<>(List.of(Priority.values()));
        Collections.reverse(order);
        for (Priority priority : order) {
            int count = counts.getOrDefault(priority, 0);
            shares.add(count + " (" + Counted.percent((double) count / Math.max(1, priorities.size())) + ')');
        }
        return String.join(" / ", shares);
    }

    void print(Duration length) {
        System.out.printf(
                "%n%d alerts shown, %d of them again after somebody had seen them; %d more were held from first to last%n%n",
                raised.size(),
                again,
                held.stream().filter(id -> !first.containsKey(id)).count());
        Counted.row("alerts that the server shows", "here", "published");
        Counted.row("---", "---", "---");
        Counted.row("in 10 minutes, average", Counted.number(raised.perWindow(length), 3), "below 1; 1 to 2 at most");
        Counted.row("a day, average", Counted.number(raised.perDay(length), 1), "150 acceptable, 300 at most");
        Counted.row("worst day", raised.worstDay(), "");
        Counted.row("most in 10 minutes", raised.mostInTenMinutes(), "10");
        Counted.row("time in flood", Counted.percent(raised.floodShare(length)), "below 1 %");
        Counted.row(
                "ten most frequent, of " + raised.subjects(),
                Counted.percent(raised.shareOfTheTenMostFrequent()),
                "1 to 5 %");
        Counted.row("chattering, 3 in a minute", chattering(), "0");
        Counted.row("fleeting, over within a minute", fleeting, "0");
        Counted.row("standing at noon, average", Counted.number(Counted.average(standing), 1), "below 10");
        Counted.row("standing at noon, most", Collections.max(standing), "");
        Counted.row("stale at noon, average", Counted.number(Counted.average(stale), 1), "below 5");
        Counted.row("low / medium / high / urgent, as raised", split(first), "80 / 15 / 5 % / below 1 %");
        Counted.row("the same, highest until over", split(highest), "");
    }
}
