package dev.rimecast.history.tune;

import dev.rimecast.analytics.score.FittingConditions;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.Judge;
import dev.rimecast.history.backtest.Judged;
import dev.rimecast.history.backtest.Labels;
import dev.rimecast.telemetry.file.result.AlertRow;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;

/**
 * Which variant would have cost least, and whether that is more than luck: the machines are dealt into parts, and for each part
 * the choice of all others ({@link Choice}) is tried on it. What that costs in sum, beside the policy as it is, is what can be
 * expected of the choice on machines that it has not seen. Only where that is cheaper by more than its standard error is anything
 * proposed.
 *
 * @param judged each variant on all machines
 * @param costs of each variant on all machines
 * @param cheapest index of the cheapest; of equals the first
 * @param choice index of what the rule takes of all machines
 * @param best index of what is proposed: the choice, or 0 where it does not hold on machines that it had not seen
 * @param unseen cost of the choices on machines that they had not seen
 * @param unsure standard error of the difference between that and the policy as it is; infinite with one machine
 * @param chosen how often each variant was the choice of the others
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
        int parts) {

    /** What is proposed, and why not. */
    public enum Outcome {
        /** None would have cost less than the policy as it is. */
        NONE_CHEAPER,
        /** The cheapest is not cheaper than the policy as it is by more than its standard error, machine by machine. */
        WITHIN_ERROR,
        /** Such choices are not cheaper on machines that they had not seen. */
        NOT_HELD,
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
        double unseen = 0;
        double[] gains = new double[machines.size()];
        Map<Integer, Integer> chosen = new TreeMap<>();
        for (int part = 0; part < dealt; part++) {
            List<double[]> others = new ArrayList<>();
            for (int machine = 0; machine < byMachine.length; machine++) {
                if (machine % dealt != part) {
                    others.add(byMachine[machine]);
                }
            }
            int choice = Choice.of(others, steps);
            chosen.merge(choice, 1, Integer::sum);
            for (int machine = part; machine < byMachine.length; machine += dealt) {
                unseen += byMachine[machine][choice];
                gains[machine] = byMachine[machine][0] - byMachine[machine][choice];
            }
        }
        List<Double> sums = judged.stream().map(costs::of).toList();
        int choice = Choice.of(List.of(byMachine), steps);
        double unsure = Choice.standardError(gains);
        boolean holds = sums.get(0) - unseen > unsure + Choice.NOTHING;
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
                dealt);
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
        return best == 0 ? Outcome.NOT_HELD : Outcome.PROPOSED;
    }

    /** Cost of the policy as it is. */
    double before() {
        return costs.get(0);
    }

    /** Whether no other variant is both earlier and quieter: fewer trips wasted and fewer problems missed, and one of them less. */
    public boolean isOnFrontier(int index) {
        int wasted = judged.get(index).wasted();
        int missed = missed(index);
        for (int other = 0; other < judged.size(); other++) {
            int itsWasted = judged.get(other).wasted();
            int itsMissed = missed(other);
            if (itsWasted <= wasted && itsMissed <= missed && (itsWasted < wasted || itsMissed < missed)) {
                return false;
            }
        }
        return true;
    }

    private int missed(int index) {
        return judged.get(index).problems().size() - judged.get(index).found();
    }

    /** Variants by name, and in how many parts each was chosen. */
    String choices() {
        return chosen.entrySet().stream()
                .map(entry -> variants.get(entry.getKey()).name() + " (" + entry.getValue() + " of " + parts + ")")
                .collect(Collectors.joining("; "));
    }
}
