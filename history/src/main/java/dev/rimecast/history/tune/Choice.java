package dev.rimecast.history.tune;

import java.util.List;

/**
 * Which variant to take, from what each would have cost on each machine: of those that are not dearer than the cheapest by more
 * than one standard error of that difference, the one nearest to the policy as it is.
 *
 * <p>The rule is that of one standard error (Breiman, Friedman, Olshen and Stone, Classification and Regression Trees, 1984,
 * section 3.4.3). The difference is taken machine by machine, since a machine with a fault costs every variant much; machines
 * count as independent.
 *
 * <table>
 * <caption>Edges</caption>
 * <tr><td>no machine, or one</td><td>the policy as it is: nothing tells the error</td></tr>
 * <tr><td>equals</td><td>fewer steps, then cheaper, then the first</td></tr>
 * <tr><td>all the difference on one machine</td><td>it is its own error: the policy as it is</td></tr>
 * </table>
 */
final class Choice {
    /** Sums of money differ by rounding. */
    static final double NOTHING = 1e-9;

    private Choice() {}

    /**
     * Index of the variant; 0 is the policy as it is.
     *
     * @param byMachine for each machine, the cost of each variant
     * @param steps how far each variant is from the policy as it is
     */
    static int of(List<double[]> byMachine, int[] steps) {
        int cheapest = cheapest(byMachine);
        int chosen = cheapest;
        for (int variant = 0; variant < steps.length; variant++) {
            double[] dearer = difference(byMachine, variant, cheapest);
            if (sum(dearer) <= standardError(dearer) + NOTHING && isNearer(byMachine, steps, variant, chosen)) {
                chosen = variant;
            }
        }
        return chosen;
    }

    private static boolean isNearer(List<double[]> byMachine, int[] steps, int variant, int than) {
        return steps[variant] < steps[than]
                || steps[variant] == steps[than] && sum(difference(byMachine, variant, than)) < -NOTHING;
    }

    /** Index of the cheapest; of equals the first. */
    static int cheapest(List<double[]> byMachine) {
        int variants = byMachine.isEmpty() ? 0 : byMachine.get(0).length;
        int least = 0;
        for (int variant = 1; variant < variants; variant++) {
            least = sum(difference(byMachine, variant, least)) < -NOTHING ? variant : least;
        }
        return least;
    }

    private static double[] difference(List<double[]> byMachine, int variant, int from) {
        return byMachine.stream()
                .mapToDouble(costs -> costs[variant] - costs[from])
                .toArray();
    }

    private static double sum(double[] values) {
        double sum = 0;
        for (double value : values) {
            sum += value;
        }
        return sum;
    }

    /** Of the sum of independent values: the root of n times their variance; infinite for fewer than two. */
    static double standardError(double[] values) {
        int n = values.length;
        if (n < 2) {
            return Double.POSITIVE_INFINITY;
        }
        double mean = sum(values) / n;
        double squares = 0;
        for (double value : values) {
            squares += (value - mean) * (value - mean);
        }
        return Math.sqrt(squares / (n - 1) * n);
    }
}
