package dev.rimecast.history.backtest;

import dev.rimecast.history.backtest.Label.Source;
import dev.rimecast.history.backtest.Label.Verdict;
import dev.rimecast.telemetry.finding.Cause;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Stream;

/**
 * One problem, whoever speaks of it: a call, the visit that came of it and a mark are one, if they are of the same machine, have
 * a moment in common and name no two causes.
 *
 * @param labels the most trusted first
 */
record KnownProblem(List<Label> labels) {
    KnownProblem {
        labels = List.copyOf(labels);
    }

    /**
     * Each problem once. One of which a more trusted source says at its end that nothing was wrong, or that it can't say, is
     * none, and one about which a source contradicts itself neither.
     */
    static List<KnownProblem> of(List<Label> all, Predicate<Label> which) {
        List<List<Label>> problems = new ArrayList<>();
        all.stream()
                .filter(label -> label.isProblem() && which.test(label) && isBelieved(label, all))
                .sorted(Comparator.comparing(Label::source).thenComparing(Label::from))
                .forEach(label -> problems.stream()
                        .filter(problem -> isOf(label, problem))
                        .findFirst()
                        .orElseGet(() -> {
                            List<Label> another = new ArrayList<>();
                            problems.add(another);
                            return another;
                        })
                        .add(label));
        return problems.stream()
                .map(KnownProblem::new)
                .sorted(Comparator.comparing(KnownProblem::from)
                        .thenComparing(problem -> problem.head().machine().orElse("")))
                .toList();
    }

    private static boolean isBelieved(Label label, List<Label> all) {
        Set<Verdict> said = said(
                all.stream()
                        .filter(other -> other.source().compareTo(label.source()) <= 0 && areOfOne(other, label))
                        .toList(),
                label.until().minusMillis(1));
        return said.contains(Verdict.REAL) && !said.contains(Verdict.NOT);
    }

    /** What the most trusted of those says that say anything of a moment. */
    static Set<Verdict> said(List<Label> labels, Instant moment) {
        for (Source source : Source.values()) {
            Set<Verdict> said = EnumSet.noneOf(Verdict.class);
            labels.stream()
                    .filter(label -> label.source() == source && label.meets(moment, moment))
                    .forEach(label -> said.add(label.verdict()));
            if (!said.isEmpty()) {
                return said;
            }
        }
        return Set.of();
    }

    private static boolean isOf(Label label, List<Label> problem) {
        return areOfOne(label, problem.get(0))
                && problem.stream()
                        .anyMatch(other -> label.from().isBefore(other.until())
                                && other.from().isBefore(label.until()))
                && Stream.concat(Stream.of(label), problem.stream())
                                .flatMap(each -> each.cause().stream())
                                .distinct()
                                .count()
                        <= 1;
    }

    /** Of one machine; a call that names none may be of any, and is the same only as another such call. */
    private static boolean areOfOne(Label one, Label other) {
        return one.machine().equals(other.machine())
                && (one.machine().isPresent() || one.site().equals(other.site()));
    }

    private Label head() {
        return labels.get(0);
    }

    Optional<String> machine() {
        return head().machine();
    }

    /** Of a call that names no machine. */
    Optional<String> site() {
        return head().site();
    }

    /** As the most trusted says. */
    Instant from() {
        return head().from();
    }

    Optional<Cause> cause() {
        return labels.stream().flatMap(label -> label.cause().stream()).findFirst();
    }

    /** The first time by which somebody had to know: after a call it is too late, whenever the visit comes. */
    Instant deadline() {
        return labels.stream()
                .map(Label::deadline)
                .filter(deadline -> deadline.isAfter(from()))
                .min(Comparator.naturalOrder())
                .orElseGet(() -> head().deadline());
    }

    boolean isCall() {
        return head().source() == Source.CALL;
    }

    /** Its labels, each with the cause that any of them names. */
    Stream<Label> withCause() {
        return labels.stream()
                .map(label -> new Label(
                        label.machine(),
                        label.site(),
                        label.from(),
                        label.until(),
                        label.deadline(),
                        label.verdict(),
                        cause(),
                        label.source()));
    }
}
