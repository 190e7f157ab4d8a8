package dev.rimecast.analytics.statistics;

/**
 * Interval of a share by E. B. Wilson, Probable inference, the law of succession, and statistical inference, Journal of
 * the American Statistical Association 22 (1927), pages 209 to 212; without correction for continuity.
 *
 * @param low lower end, 0 to 1
 * @param high upper end, 0 to 1
 */
public record WilsonInterval(double low, double high) {

    /**
     * Both ends.
     *
     * @param hits of {@code trials}, which must be above 0
     * @param confidence of the two ends together, e.g. 0.9
     */
    public static WilsonInterval of(int hits, int trials, double confidence) {
        if (trials <= 0 || hits < 0 || hits > trials) {
            throw new IllegalArgumentException(
                    "hits must be 0 to trials, and trials above 0: " + hits + " of " + trials);
        }
        double z = Normal.quantile(0.5 + confidence / 2);
        double share = hits / (double) trials;
        double spread = z * z / trials;
        double middle = (share + spread / 2) / (1 + spread);
        double half = z / (1 + spread) * StrictMath.sqrt(share * (1 - share) / trials + spread / (4 * trials));
        return new WilsonInterval(Math.max(0, middle - half), Math.min(1, middle + half));
    }
}
