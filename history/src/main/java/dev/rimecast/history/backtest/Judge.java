package dev.rimecast.history.backtest;

import dev.rimecast.analytics.score.FittingConditions;
import dev.rimecast.analytics.score.Places;
import dev.rimecast.history.backtest.Label.Source;
import dev.rimecast.history.backtest.Label.Verdict;
import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/**
 * Holds alerts against labels. An alert is right if a problem was there while it stood whose cause its condition fits, or of
 * which nobody knows the cause; wrong if the machine was sound when it was raised. Where sources contradict each other, marks
 * go before truth, truth before visits, visits before calls; where one contradicts itself, nothing is said.
 */
public final class Judge {
    private final Decided decided;
    private final Labels labels;
    private final FittingConditions fitting;
    private final Places places;
    private final Map<String, Machine> machines = new HashMap<>();
    /** When anything was heard last. */
    private final Instant end;

    public Judge(Decided decided, Labels labels, FittingConditions fitting) {
        this.decided = decided;
        this.labels = labels;
        this.fitting = fitting;
        this.places = new Places(decided.machines());
        decided.machines().forEach(machine -> machines.put(machine.id(), machine));
        this.end = decided.watched().values().stream()
                .map(Decided.Span::to)
                .max(Comparator.naturalOrder())
                .orElse(Instant.MAX);
    }

    public Judged judge(List<AlertRow> alerts) {
        List<AlertRow> right = new ArrayList<>();
        List<AlertRow> wrong = new ArrayList<>();
        List<AlertRow> unlabelled = new ArrayList<>();
        List<AlertRow> contradicting = new ArrayList<>();
        int statements = 0;
        int care = 0;
        for (AlertRow alert : alerts) {
            if (alert.condition().isCare()) {
                care++;
                continue;
            }
            Set<Verdict> said = said(alert);
            if (said.contains(Verdict.REAL) && said.contains(Verdict.NOT)) {
                contradicting.add(alert);
            } else if (said.contains(Verdict.REAL)) {
                right.add(alert);
            } else if (alert.machine().isEmpty() || FittingConditions.isOfPlaceOrLink(alert.condition())) {
                statements++;
            } else if (said.contains(Verdict.NOT)) {
                wrong.add(alert);
            } else {
                unlabelled.add(alert);
            }
        }
        return new Judged(
                problems(alerts),
                right,
                wrong,
                unlabelled,
                contradicting,
                statements,
                care,
                soundYears(),
                decided.watched().values().stream()
                        .mapToDouble(Decided.Span::years)
                        .sum());
    }

    /** Whether an alert is about a machine, and neither a statement about a place or link nor a reminder of care. */
    public static boolean isOfMachine(AlertRow alert) {
        return !alert.condition().isCare()
                && alert.machine().isPresent()
                && !FittingConditions.isOfPlaceOrLink(alert.condition());
    }

    /** What the most trusted source says that says anything. */
    private Set<Verdict> said(AlertRow alert) {
        Instant end = standsUntil(alert);
        for (Source source : Source.values()) {
            Set<Verdict> said = EnumSet.noneOf(Verdict.class);
            for (Label label : labels.all()) {
                if (label.source() == source && speaksOf(label, alert, end)) {
                    said.add(label.verdict());
                }
            }
            if (!said.isEmpty()) {
                return said;
            }
        }
        return Set.of();
    }

    /** One that has not cleared stands as long as anybody has looked. */
    private Instant standsUntil(AlertRow alert) {
        return alert.clearedAt()
                .or(() -> Stream.of(
                                alert.raisedAt(),
                                alert.machine()
                                        .map(decided.watched()::get)
                                        .map(Decided.Span::to)
                                        .orElse(end))
                        .max(Comparator.naturalOrder()))
                .orElse(end);
    }

    private boolean speaksOf(Label label, AlertRow alert, Instant end) {
        if (label.isProblem()) {
            return fits(label, alert.condition()) && label.meets(alert.raisedAt(), end) && isAbout(label, alert);
        }
        return label.meets(alert.raisedAt(), alert.raisedAt()) && isAbout(label, alert);
    }

    private boolean fits(Label label, Condition condition) {
        return label.cause().isPresent() ? fitting.fits(condition, label.cause().get()) : warns(condition);
    }

    /** Silence and care warn of nothing. */
    private static boolean warns(Condition condition) {
        return !condition.isCare() && condition != Condition.MACHINE_SILENT && condition != Condition.GATEWAY_SILENT;
    }

    /** A fault of a room or a link shows at every machine of its site. */
    private boolean isAbout(Label label, AlertRow alert) {
        if (label.machine().isEmpty()) {
            return alert.machine()
                    .map(machines::get)
                    .filter(machine -> label.site().equals(Optional.of(machine.site())))
                    .isPresent();
        }
        String machine = label.machine().get();
        boolean isOfSite = label.cause().filter(fitting::isOfSite).isPresent();
        return places.isAbout(alert, machine)
                || isOfSite
                        && alert.machine()
                                .filter(other -> places.areOnOneSite(other, machine))
                                .isPresent();
    }

    private List<Judged.Problem> problems(List<AlertRow> alerts) {
        return KnownProblem.of(labels.all(), this::isWatched).stream()
                .map(problem -> new Judged.Problem(
                        problem.machine(),
                        problem.site(),
                        problem.cause(),
                        problem.from(),
                        problem.deadline(),
                        problem.isCall(),
                        alerts.stream()
                                .filter(alert -> alert.raisedAt().isBefore(problem.deadline()))
                                .filter(alert -> problem.withCause()
                                        .anyMatch(label -> speaksOf(label, alert, standsUntil(alert))))
                                .min(Comparator.comparing(AlertRow::raisedAt))))
                .toList();
    }

    /** What was due before or after the record, nobody could find in it. */
    private boolean isWatched(Label label) {
        return decided.watched().entrySet().stream()
                .filter(entry -> label.machine()
                        .map(entry.getKey()::equals)
                        .orElseGet(() -> Optional.ofNullable(machines.get(entry.getKey()))
                                .map(Machine::site)
                                .equals(label.site())))
                .anyMatch(entry -> label.deadline().isAfter(entry.getValue().from())
                        && label.from().isBefore(entry.getValue().to()));
    }

    /** Time in which a machine is known to have been sound, by the most trusted of those who say anything; each moment once. */
    private double soundYears() {
        double millis = 0;
        for (Map.Entry<String, Decided.Span> watched : decided.watched().entrySet()) {
            List<Label> own = labels.all().stream()
                    .filter(label -> label.machine().equals(Optional.of(watched.getKey())))
                    .toList();
            List<Instant> edges = new ArrayList<>(
                    List.of(watched.getValue().from(), watched.getValue().to()));
            own.forEach(label -> edges.addAll(List.of(label.from(), label.until())));
            List<Instant> sorted = edges.stream()
                    .filter(edge -> !edge.isBefore(watched.getValue().from())
                            && !edge.isAfter(watched.getValue().to()))
                    .distinct()
                    .sorted()
                    .toList();
            for (int i = 0; i + 1 < sorted.size(); i++) {
                Instant moment = sorted.get(i);
                Set<Verdict> said = KnownProblem.said(own, moment);
                if (said.contains(Verdict.NOT) && !said.contains(Verdict.REAL)) {
                    millis += Duration.between(moment, sorted.get(i + 1)).toMillis();
                }
            }
        }
        return millis / (365.2425 * 86_400_000);
    }
}
