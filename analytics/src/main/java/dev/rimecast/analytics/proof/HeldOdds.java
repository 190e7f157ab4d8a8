package dev.rimecast.analytics.proof;

import dev.rimecast.analytics.statistics.Normal;

/**
 * How probable it is that a feature is back where it should be, from the mean residual of the cycles since the work. Two
 * hypotheses are held against each other, with even odds before the first cycle:
 *
 * <table>
 * <caption>What is left of the change, on the feature's scale</caption>
 * <tr><td>held</td><td>normal around 0: what the expectation may be wrong by (more where a part was replaced), and a
 *     little that is hardly worth speaking of</td></tr>
 * <tr><td>not held</td><td>anything from a share of the least change that is worth a finding up to what it was before, and
 *     somewhat beyond, all alike</td></tr>
 * </table>
 *
 * <p>The odds of two hypotheses, updated cycle by cycle, exceed {@code 1/α} with probability α at most while the other one is
 * true, however long one looks (Ville's inequality; Wald, Sequential Analysis, 1947, for the bounds). So they may be looked at
 * after every cycle.
 */
final class HeldOdds {
    /** Standard deviation of what is left after good work, as a share of what is worth a finding [common practice]. */
    private static final double ROUGH_SHARE = 0.15;
    /** A change may have gone on growing until the work. */
    private static final double BEYOND_SHARE = 1.3;

    private HeldOdds() {}

    /**
     * @param mean mean residual of the cycles since the work, towards the side of the complaint
     * @param cycles how many, at least 1
     * @param before how far it was before
     * @param correlation of neighbouring cycles, 0 to below 1
     * @param leftShare of {@code material}, from which on the work has not held
     */
    static double probability(
            double mean, int cycles, double before, Standing standing, double correlation, double leftShare) {
        double sampling = varianceOfMean(cycles, correlation) * standing.noise();
        double from = leftShare * standing.material();
        double to = BEYOND_SHARE * StrictMath.max(before, standing.material());
        double rough = ROUGH_SHARE * standing.material();
        // What is better than ever speaks for the work as much as what is right, what is worse than before no more
        // against it.
        double x = StrictMath.max(0, StrictMath.min(to, mean));
        double ofHeld = density(x, sampling + standing.unsure() + rough * rough);
        double deviation = StrictMath.sqrt(sampling);
        double ofNot = (Normal.below((to - x) / deviation) - Normal.below((from - x) / deviation)) / (to - from);
        // Both are tiny where the mean is many deviations from either: then it is nearer to the one that it is nearer
        // to.
        if (ofHeld + ofNot < Double.MIN_NORMAL) {
            return x < from ? 1 : 0;
        }
        return ofHeld / (ofHeld + ofNot);
    }

    private static double density(double x, double variance) {
        double deviation = StrictMath.sqrt(variance);
        return Normal.density(x / deviation) / deviation;
    }

    /**
     * Variance of the mean of n neighbours of a first-order autoregression, as a share of the variance of one, which is the sum
     * of φ^|i-j| over all pairs over n²: 1 for one, and about (1 + φ) / (1 - φ) / n for many.
     */
    static double varianceOfMean(int n, double correlation) {
        double f = correlation;
        return ((1 + f) / (1 - f) - 2 * f * (1 - StrictMath.pow(f, n)) / (n * (1 - f) * (1 - f))) / n;
    }
}
