package dev.rimecast.history.tune;

import dev.rimecast.history.backtest.Judged;
import java.util.Map;
import java.util.TreeMap;

/**
 * What things cost, in the firm's own figures.
 *
 * @param visit a trip on which nothing is found
 * @param stop a problem of which nobody knew before its time: somebody goes at once, and the site has no ice meanwhile
 * @param late an hour by which a problem was known later than three days before its time
 */
public record Costs(double visit, double stop, double late) {
    private static final double IN_TIME_HOURS = 72;

    public Costs {
        if (!(visit >= 0 && stop >= 0 && late >= 0) || visit + stop + late == 0) {
            throw new IllegalArgumentException("costs must be 0 or more, and one of them more than 0: visit " + visit
                    + ", stop " + stop + ", late " + late);
        }
    }

    /** What the alerts would have cost. */
    double of(Judged judged) {
        return byMachine(judged).values().stream()
                .mapToDouble(Double::doubleValue)
                .sum();
    }

    /** The same by machine; of those that are missing, nothing. */
    Map<String, Double> byMachine(Judged judged) {
        Map<String, Double> costs = new TreeMap<>();
        judged.trips().forEach((machine, trips) -> costs.merge(machine, visit * trips, Double::sum));
        for (Judged.Problem problem : judged.problems()) {
            double cost = problem.lead()
                    .map(lead -> late * Math.max(0, IN_TIME_HOURS - lead.toMinutes() / 60.0))
                    .orElse(stop);
            costs.merge(problem.subject(), cost, Double::sum);
        }
        return costs;
    }
}
