package dev.rimecast.analytics.diagnosis;

/** From weights of hypotheses in natural logarithms to probabilities: Bayes' rule, where exactly one of them is true. */
public final class Posterior {
    private Posterior() {}

    /**
     * Probabilities in the same order, together 1.
     *
     * @param logWeights log prior plus the log likelihood of everything that was seen, each up to the same constant; at least
     *     one, not all minus infinity
     */
    public static double[] of(double[] logWeights) {
        double most = Double.NEGATIVE_INFINITY;
        for (double weight : logWeights) {
            most = StrictMath.max(most, weight);
        }
        double[] probabilities = new double[logWeights.length];
        double sum = 0;
        for (int i = 0; i < logWeights.length; i++) {
            probabilities[i] = StrictMath.exp(logWeights[i] - most);
            sum += probabilities[i];
        }
        for (int i = 0; i < probabilities.length; i++) {
            probabilities[i] /= sum;
        }
        return probabilities;
    }
}
