package dev.rimecast.history.effect;

import dev.rimecast.analytics.statistics.Normal;
import java.util.List;
import java.util.Optional;

/**
 * How many alerts more a fleet would have had, from some of its sites: the mean difference of each stratum times its sites.
 *
 * <p>Estimate and variance are those of stratified random sampling without replacement (W. G. Cochran, Sampling Techniques, third edition, 1977,
 * equations 5.1 and 5.8): the sum over strata of N (N - n) s² / n. The interval is Student's, with as many degrees of freedom as the
 * smallest stratum has that is not whole. Differences by site are skewed, most are none: where a stratum has shown no scatter yet, both ends
 * go out by what its other sites may still hold. Had a share p of its sites differed, n would all have been alike with a probability of (1 - p)^n,
 * which is below 5 % for p above 1 - 0.05^(1/n) (C. J. Clopper and E. S. Pearson, Biometrika 26, 1934: their end for none of n). So many of those not seen,
 * times the largest difference that was seen anywhere, at least one. How often it holds the truth is in {@code FleetShiftTest}.
 *
 * <table>
 * <caption>Edges</caption>
 * <tr><td>a stratum with sites and none of them seen, or fewer than {@link #LEAST}, and not whole</td><td>nothing is said</td></tr>
 * <tr><td>no site seen differs, and not all are seen</td><td>nothing is said: that would be certainty from nothing</td></tr>
 * <tr><td>every site is seen</td><td>exact: both ends are the sum</td></tr>
 * </table>
 *
 * @param low end of a two-sided 90 % interval
 */
public record FleetShift(double more, double low, double high) {
    /** Sites of a stratum without which its scatter is not known. */
    static final int LEAST = 5;

    private static final double ONE_SIDE = 0.95;

    /**
     * Sites that are alike.
     *
     * @param sites all of them
     * @param seen alerts more, of those that were seen
     */
    public record Stratum(int sites, List<Integer> seen) {
        public Stratum {
            seen = List.copyOf(seen);
            if (seen.size() > sites) {
                throw new IllegalArgumentException(seen.size() + " sites seen of " + sites);
            }
        }

        private boolean isWhole() {
            return seen.size() == sites;
        }

        private double mean() {
            return seen.stream().mapToInt(Integer::intValue).average().orElse(0);
        }

        private double squares() {
            double mean = mean();
            return seen.stream()
                    .mapToDouble(each -> (each - mean) * (each - mean))
                    .sum();
        }

        private int largest() {
            return seen.stream().mapToInt(Math::abs).max().orElse(0);
        }

        /** What those may differ by that were not seen, where those seen are all alike. */
        private double unseen(int largest) {
            int n = seen.size();
            return isWhole() || squares() > 0 ? 0 : (sites - n) * (1 - StrictMath.pow(1 - ONE_SIDE, 1.0 / n)) * largest;
        }

        /** Of the sum over all its sites. */
        private double variance() {
            int n = seen.size();
            return isWhole() ? 0 : (double) sites * (sites - n) / n * squares() / (n - 1);
        }
    }

    /** Empty where too few sites are seen to say anything of the others. */
    public static Optional<FleetShift> of(List<Stratum> strata) {
        double more = 0;
        double variance = 0;
        int freedom = Integer.MAX_VALUE;
        for (Stratum stratum : strata) {
            if (!stratum.isWhole() && stratum.seen().size() < LEAST) {
                return Optional.empty();
            }
            more += stratum.mean() * stratum.sites();
            variance += stratum.variance();
            freedom = stratum.isWhole()
                    ? freedom
                    : Math.min(freedom, stratum.seen().size() - 1);
        }
        if (freedom == Integer.MAX_VALUE) {
            return Optional.of(new FleetShift(more, more, more));
        }
        int largest = strata.stream().mapToInt(Stratum::largest).max().orElse(0);
        if (largest == 0) {
            return Optional.empty();
        }
        double unseen =
                strata.stream().mapToDouble(each -> each.unseen(largest)).sum();
        double half = quantile(freedom) * StrictMath.sqrt(variance) + unseen;
        return Optional.of(new FleetShift(more, more - half, more + half));
    }

    /** Of Student's distribution: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5, the first three terms. */
    static double quantile(int freedom) {
        double z = Normal.quantile(ONE_SIDE);
        double z2 = z * z;
        double first = z * (z2 + 1) / 4;
        double second = z * ((5 * z2 + 16) * z2 + 3) / 96;
        double third = z * (((3 * z2 + 19) * z2 + 17) * z2 - 15) / 384;
        return z + first / freedom + second / (freedom * (double) freedom) + third / StrictMath.pow(freedom, 3);
    }
}
