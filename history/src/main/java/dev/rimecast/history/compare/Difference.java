package dev.rimecast.history.compare;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;

/**
 * Where two policies differ about one thing. At least one of the two is there.
 *
 * @param current what the policy in force has made of it
 * @param candidate what the other has
 */
public record Difference(Kind kind, Optional<Raised> current, Optional<Raised> candidate) {

    /** How they differ, seen from the candidate. */
    public enum Kind {
        /** Only the candidate raises it. */
        ADDED,
        /** Only the policy in force does. */
        LEFT_OUT,
        /** Both do, the candidate sooner. */
        EARLIER,
        LATER,
        /** Both do at the same time, and for the candidate it is over sooner. */
        OVER_SOONER,
        OVER_LATER
    }

    /** One of the two, for what is the same in both. */
    public Raised either() {
        return candidate.or(() -> current).orElseThrow();
    }

    private Instant since() {
        return current.map(Raised::raisedAt)
                .filter(at -> candidate.isEmpty() || at.isBefore(candidate.get().raisedAt()))
                .orElseGet(() -> either().raisedAt());
    }

    /**
     * Lays alerts beside each other: those with the same id, then those of the same machine and condition that stand at one
     * time, in the order in which they were raised.
     *
     * @return in the order of time
     */
    public static List<Difference> between(Collection<Raised> current, Collection<Raised> candidate) {
        Map<String, List<Raised>> others = new HashMap<>();
        candidate.forEach(raised -> others.computeIfAbsent(raised.about(), about -> new ArrayList<>())
                .add(raised));
        Map<String, List<Raised>> own = new TreeMap<>();
        current.forEach(raised ->
                own.computeIfAbsent(raised.about(), about -> new ArrayList<>()).add(raised));
        List<Difference> differences = new ArrayList<>();
        own.forEach((about, raised) -> {
            List<Raised> there = others.remove(about);
            pair(raised, there == null ? List.of() : there, differences);
        });
        others.values().forEach(left -> pair(List.of(), left, differences));
        differences.sort(Comparator.comparing(Difference::since)
                .thenComparing(difference -> difference.either().id()));
        return List.copyOf(differences);
    }

    private static void pair(List<Raised> current, List<Raised> candidate, List<Difference> into) {
        List<Raised> left = new ArrayList<>(candidate);
        left.sort(Comparator.comparing(Raised::raisedAt));
        List<Raised> alone = new ArrayList<>();
        for (Raised raised : current) {
            Optional<Raised> same = ofId(left, raised.id());
            same.ifPresent(left::remove);
            if (same.isPresent()) {
                ends(raised, same.get()).ifPresent(into::add);
            } else {
                alone.add(raised);
            }
        }
        alone.sort(Comparator.comparing(Raised::raisedAt));
        for (Raised raised : alone) {
            Optional<Raised> beside = left.stream().filter(raised::standsWith).findFirst();
            beside.ifPresent(left::remove);
            into.add(
                    beside.isPresent()
                            ? new Difference(
                                    beside.get().raisedAt().isBefore(raised.raisedAt()) ? Kind.EARLIER : Kind.LATER,
                                    Optional.of(raised),
                                    beside)
                            : new Difference(Kind.LEFT_OUT, Optional.of(raised), Optional.empty()));
        }
        left.forEach(raised -> into.add(new Difference(Kind.ADDED, Optional.empty(), Optional.of(raised))));
    }

    private static Optional<Raised> ofId(List<Raised> raised, UUID id) {
        return raised.stream().filter(each -> each.id().equals(id)).findFirst();
    }

    private static Optional<Difference> ends(Raised current, Raised candidate) {
        if (current.clearedAt().equals(candidate.clearedAt())) {
            return Optional.empty();
        }
        boolean isSooner = candidate
                .clearedAt()
                .orElse(Instant.MAX)
                .isBefore(current.clearedAt().orElse(Instant.MAX));
        return Optional.of(new Difference(
                isSooner ? Kind.OVER_SOONER : Kind.OVER_LATER, Optional.of(current), Optional.of(candidate)));
    }
}
