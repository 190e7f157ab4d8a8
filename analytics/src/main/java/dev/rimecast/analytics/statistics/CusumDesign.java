package dev.rimecast.analytics.statistics;

/**
 * Average run lengths of the one-sided cumulative sum {@code S = max(0, S + x - k)} on independent standard normal
 * values, and the limit {@code h} that gives a wanted one.
 *
 * <p>Exact: solves the integral equation of Page (1954) for the run length L(u) from the start S = u,
 * {@code L(u) = 1 + L(0) Φ(k - u - shift) + ∫ L(x) φ(x + k - u - shift) dx} over 0..h, at Gauss-Legendre points (Nyström).
 */
public final class CusumDesign {
    /** Enough for six digits up to h = 15: more points change nothing there. */
    private static final int POINTS = 48;

    private CusumDesign() {}

    /**
     * Values from the start at zero to the alarm, on average.
     *
     * @param k reference value, in standard deviations
     * @param h limit, in standard deviations
     * @param shift mean of the values, in standard deviations
     */
    public static double averageRunLength(double k, double h, double shift) {
        return averageRunLength(k, h, shift, 0);
    }

    /** The same from the start {@code S = start}, 0 to h: a head start. */
    public static double averageRunLength(double k, double h, double shift, double start) {
        GaussLegendre rule = GaussLegendre.of(POINTS, 0, h);
        int n = POINTS + 1;
        double[][] system = new double[n][n + 1];
        for (int row = 0; row < n; row++) {
            double u = row == 0 ? 0 : rule.point(row - 1);
            fillRow(system[row], u, k, shift, rule);
            for (int column = 0; column < n; column++) {
                system[row][column] = (row == column ? 1 : 0) - system[row][column];
            }
            system[row][n] = 1;
        }
        double[] lengths = LinearSystem.solve(system);
        double[] last = new double[n + 1];
        fillRow(last, start, k, shift, rule);
        double length = 1;
        for (int column = 0; column < n; column++) {
            length += last[column] * lengths[column];
        }
        return length;
    }

    private static void fillRow(double[] row, double u, double k, double shift, GaussLegendre rule) {
        row[0] = Normal.below(k - u - shift);
        for (int i = 0; i < POINTS; i++) {
            row[i + 1] = rule.weight(i) * Normal.density(rule.point(i) + k - u - shift);
        }
    }

    /**
     * The limit with the wanted average run length while nothing has changed, to 1e-6.
     *
     * @param k reference value, in standard deviations, above 0
     * @param valuesBetweenFalseAlarms wanted average, at least 10
     */
    public static double limitFor(double k, double valuesBetweenFalseAlarms) {
        if (!(k > 0) || !(valuesBetweenFalseAlarms >= 10)) {
            throw new IllegalArgumentException(
                    "k must be above 0 and the run length at least 10, were " + k + " and " + valuesBetweenFalseAlarms);
        }
        double low = 0.01;
        double high = 1;
        while (averageRunLength(k, high, 0) < valuesBetweenFalseAlarms) {
            low = high;
            high *= 1.5;
        }
        while (high - low > 1e-6) {
            double middle = (low + high) / 2;
            if (averageRunLength(k, middle, 0) < valuesBetweenFalseAlarms) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }
}
