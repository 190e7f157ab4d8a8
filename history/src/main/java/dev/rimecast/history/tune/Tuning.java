package dev.rimecast.history.tune;

import dev.rimecast.analytics.score.FittingConditions;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.Judge;
import dev.rimecast.history.backtest.Judged;
import dev.rimecast.history.backtest.Labels;
import dev.rimecast.telemetry.file.result.AlertRow;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;

/**
 * Which variant would have cost least, and whether that is more than luck: the machines are dealt into parts, and for each part
 * the cheapest variant of all others is tried on it. What that costs in sum, beside the policy as it is, is what can be expected
 * of the choice on machines that it has not seen.
 *
 * @param judged each variant on all machines
 * @param costs of each variant on all machines
 * @param best index of the cheapest; of equals the first, so that nothing changes without a reason
 * @param unseen cost of the choices on machines that they had not seen
 * @param chosen how often each variant was the cheapest of the others
 */
public record Tuning(
        List<Variant> variants,
        List<Judged> judged,
        List<Double> costs,
        int best,
        double unseen,
        Map<Integer, Integer> chosen,
        int parts) {

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
        List<Judged> all =
                judge(decided, labels, alerts, Set.copyOf(decided.watched().keySet()));
        List<Double> sums = all.stream().map(costs::of).toList();
        List<Set<String>> dealt = deal(decided, parts);
        double[][] byPart = new double[dealt.size()][];
        for (int part = 0; part < dealt.size(); part++) {
            byPart[part] = judge(decided, labels, alerts, dealt.get(part)).stream()
                    .mapToDouble(costs::of)
                    .toArray();
        }
        double unseen = 0;
        Map<Integer, Integer> chosen = new TreeMap<>();
        for (int part = 0; part < dealt.size(); part++) {
            double[] others = new double[variants.size()];
            for (int other = 0; other < dealt.size(); other++) {
                for (int variant = 0; other != part && variant < others.length; variant++) {
                    others[variant] += byPart[other][variant];
                }
            }
            int choice = least(others);
            chosen.merge(choice, 1, Integer::sum);
            unseen += byPart[part][choice];
        }
        double[] flat = sums.stream().mapToDouble(Double::doubleValue).toArray();
        return new Tuning(variants, all, sums, least(flat), unseen, chosen, dealt.size());
    }

    private static int least(double[] costs) {
        int least = 0;
        for (int i = 1; i < costs.length; i++) {
            least = costs[i] < costs[least] - 1e-9 ? i : least;
        }
        return least;
    }

    /** Machines in turn by their names, so that every run deals alike. */
    private static List<Set<String>> deal(Decided decided, int parts) {
        List<Set<String>> dealt = new ArrayList<>();
        int next = 0;
        for (String machine : new TreeSet<>(decided.watched().keySet())) {
            if (dealt.size() < parts) {
                dealt.add(new TreeSet<>());
            }
            dealt.get(next++ % parts).add(machine);
        }
        return dealt;
    }

    private static List<Judged> judge(
            Decided decided, Labels labels, List<List<AlertRow>> alerts, Set<String> machines) {
        Map<String, Decided.Span> watched = new HashMap<>(decided.watched());
        watched.keySet().retainAll(machines);
        Decided part = new Decided(
                decided.machines(), watched, decided.events(), List.of(), decided.records(), decided.cycles());
        Judge judge = new Judge(part, labels.of(machines), FittingConditions.standard());
        return alerts.stream()
                .map(each -> judge.judge(each.stream()
                        .filter(alert ->
                                alert.machine().filter(machines::contains).isPresent())
                        .toList()))
                .toList();
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
