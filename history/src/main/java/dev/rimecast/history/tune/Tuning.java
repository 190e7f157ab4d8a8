package dev.rimecast.history.tune;

import dev.rimecast.analytics.score.FittingConditions;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.Judge;
import dev.rimecast.history.backtest.Judged;
import dev.rimecast.history.backtest.Labels;
import dev.rimecast.telemetry.file.result.AlertRow;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;

/**
 * Which variant would have cost least, and whether that is more than luck: the machines are dealt into parts, and for each part
 * the choice of all others ({@link Choice}) is tried on it. What that costs in sum, beside the policy as it is, is what can be
 * expected of the choice on machines that it has not seen. Only where that is cheaper by more than its standard error, and where choices
 * of the other machines in the other half of the time are no dearer ({@link OverTime}), is anything proposed.
 *
 * @param judged each variant on all machines
 * @param costs of each variant on all machines
 * @param cheapest index of the cheapest; of equals the first
 * @param choice index of what the rule takes of all machines
 * @param best index of what is proposed: the choice, or 0 where it does not hold on machines that it had not seen
 * @param unseen cost of the choices on machines that they had not seen
 * @param unsure standard error of the difference between that and the policy as it is; infinite with one machine
 * @param chosen how often each variant was the choice of the others
 * @param overTime what came of choosing on other machines and another time; empty where nothing is known before the middle or after it
 */
public record Tuning(
        List<Variant> variants,
        List<Judged> judged,
        List<Double> costs,
        int cheapest,
        int choice,
        int best,
        double unseen,
        double unsure,
        Map<Integer, Integer> chosen,
        int parts,
        Optional<OverTime> overTime) {

    /**
     * Chosen on the other machines in one half of the time, and tried on a part's machines in the other half: what such choices cost
     * on what they had seen neither machine nor season of.
     *
     * @param middle where the time is cut
     * @param before what the policy as it is costs over the same
     * @param unsure standard error of the difference; infinite with one machine
     */
    public record OverTime(Instant middle, double unseen, double before, double unsure) {
        /** Whether the choices cost more there than the policy as it is. */
        public boolean isWorse() {
            return unseen > before + Choice.NOTHING;
        }
    }

    /** What is proposed, and why not. */
    public enum Outcome {
        /** None would have cost less than the policy as it is. */
        NONE_CHEAPER,
        /** The cheapest is not cheaper than the policy as it is by more than its standard error, machine by machine. */
        WITHIN_ERROR,
        /** Such choices are not cheaper on machines that they had not seen. */
        NOT_HELD,
        /** They are, but not on machines and in a time that they had not seen. */
        NOT_OVER_TIME,
        PROPOSED
    }

    public Tuning {
        variants = List.copyOf(variants);
        judged = List.copyOf(judged);
        costs = List.copyOf(costs);
        chosen = Map.copyOf(chosen);
    }

    /** @param alerts of each variant */
    public static Tuning of(
            List<Variant> variants,
            Decided decided,
            Labels labels,
            List<List<AlertRow>> alerts,
            Costs costs,
            int parts) {
        // By their names, so that every run deals alike.
        List<String> machines = List.copyOf(new TreeSet<>(decided.watched().keySet()));
        Judge judge = new Judge(decided, labels.of(Set.copyOf(machines)), FittingConditions.standard());
        List<Judged> judged = alerts.stream()
                .map(each -> judge.judge(each.stream()
                        .filter(alert ->
                                alert.machine().filter(machines::contains).isPresent())
                        .toList()))
                .toList();
        double[][] byMachine = byMachine(judged, machines, costs);
        int[] steps = Variant.steps(variants);
        int dealt = Math.min(parts, machines.size());
        Map<Integer, Integer> chosen = new TreeMap<>();
        Unseen ofMachines = Unseen.of(byMachine, byMachine, steps, dealt, chosen);
        double unseen = ofMachines.cost;
        double[] gains = ofMachines.gains;
        Optional<OverTime> overTime = overTime(decided, judged, machines, costs, steps, dealt);
        List<Double> sums = judged.stream().map(costs::of).toList();
        int choice = Choice.of(List.of(byMachine), steps);
        double unsure = Choice.standardError(gains);
        boolean holds = sums.get(0) - unseen > unsure + Choice.NOTHING
                && overTime.filter(OverTime::isWorse).isEmpty();
        return new Tuning(
                variants,
                judged,
                sums,
                Choice.cheapest(List.of(byMachine)),
                choice,
                holds ? choice : 0,
                unseen,
                unsure,
                chosen,
                dealt,
                overTime);
    }

    /** Each half of the time is tried with what the other half has chosen, on other machines. */
    private static Optional<OverTime> overTime(
            Decided decided, List<Judged> judged, List<String> machines, Costs costs, int[] steps, int dealt) {
        Instant from = decided.watched().values().stream()
                .map(Decided.Span::from)
                .min(Comparator.naturalOrder())
                .orElse(Instant.EPOCH);
        Instant to = decided.watched().values().stream()
                .map(Decided.Span::to)
                .max(Comparator.naturalOrder())
                .orElse(Instant.EPOCH);
        Instant middle = from.plus(Duration.between(from, to).dividedBy(2));
        double[][] first =
                byMachine(judged.stream().map(each -> each.before(middle)).toList(), machines, costs);
        double[][] second =
                byMachine(judged.stream().map(each -> each.since(middle)).toList(), machines, costs);
        if (isNothing(first) || isNothing(second)) {
            return Optional.empty();
        }
        Unseen later = Unseen.of(first, second, steps, dealt, new TreeMap<>());
        Unseen earlier = Unseen.of(second, first, steps, dealt, new TreeMap<>());
        double[] gains = new double[machines.size()];
        double before = 0;
        for (int machine = 0; machine < gains.length; machine++) {
            gains[machine] = later.gains[machine] + earlier.gains[machine];
            before += first[machine][0] + second[machine][0];
        }
        return Optional.of(new OverTime(middle, later.cost + earlier.cost, before, Choice.standardError(gains)));
    }

    private static boolean isNothing(double[][] costs) {
        return Arrays.stream(costs)
                .allMatch(ofMachine -> Arrays.stream(ofMachine).allMatch(cost -> cost == 0));
    }

    /**
     * Choices of all other parts, tried on each part: their cost in sum, and what each machine gains beside the policy as it is.
     */
    private static final class Unseen {
        final double cost;
        final double[] gains;

        private Unseen(double cost, double[] gains) {
            this.cost = cost;
            this.gains = gains;
        }

        static Unseen of(double[][] seen, double[][] tried, int[] steps, int dealt, Map<Integer, Integer> chosen) {
            double cost = 0;
            double[] gains = new double[tried.length];
            for (int part = 0; part < dealt; part++) {
                List<double[]> others = new ArrayList<>();
                for (int machine = 0; machine < seen.length; machine++) {
                    if (machine % dealt != part) {
                        others.add(seen[machine]);
                    }
                }
                int choice = Choice.of(others, steps);
                chosen.merge(choice, 1, Integer::sum);
                for (int machine = part; machine < tried.length; machine += dealt) {
                    cost += tried[machine][choice];
                    gains[machine] = tried[machine][0] - tried[machine][choice];
                }
            }
            return new Unseen(cost, gains);
        }
    }

    /** Of each machine what each variant would have cost. */
    private static double[][] byMachine(List<Judged> judged, List<String> machines, Costs costs) {
        double[][] byMachine = new double[machines.size()][judged.size()];
        for (int variant = 0; variant < judged.size(); variant++) {
            Map<String, Double> of = costs.byMachine(judged.get(variant));
            for (int machine = 0; machine < byMachine.length; machine++) {
                byMachine[machine][variant] = of.getOrDefault(machines.get(machine), 0.0);
            }
        }
        return byMachine;
    }

    public Outcome outcome() {
        if (cheapest == 0) {
            return Outcome.NONE_CHEAPER;
        }
        if (choice == 0) {
            return Outcome.WITHIN_ERROR;
        }
        if (best != 0) {
            return Outcome.PROPOSED;
        }
        boolean heldOnMachines = before() - unseen > unsure + Choice.NOTHING;
        return heldOnMachines ? Outcome.NOT_OVER_TIME : Outcome.NOT_HELD;
    }

    /** Cost of the policy as it is. */
    double before() {
        return costs.get(0);
    }

    /**
     * Whether it is on the frontier of wrong alerts against lead: no other variant has a longer lead with no more wrong alerts, or fewer with
     * no shorter one. The lead is that of all problems, a missed one with none. Where no sound time is known, nothing is known to be wrong,
     * and all alerts stand for those. None is on it where no problem is known.
     */
    public boolean isOnFrontier(int index) {
        Judged one = judged.get(index);
        if (one.leadOfAllHours().isEmpty()) {
            return false;
        }
        double lead = one.leadOfAllHours().getAsDouble();
        return judged.stream().noneMatch(other -> {
            double itsLead = other.leadOfAllHours().orElse(0);
            return noise(other) <= noise(one) && itsLead >= lead && (noise(other) < noise(one) || itsLead > lead);
        });
    }

    private static int noise(Judged of) {
        return of.soundYears() > 0 ? of.wrong().size() : of.counted();
    }

    /** Variants by name, and in how many parts each was chosen. */
    String choices() {
        return chosen.entrySet().stream()
                .map(entry -> variants.get(entry.getKey()).name() + " (" + entry.getValue() + " of " + parts + ")")
                .collect(Collectors.joining("; "));
    }
}
