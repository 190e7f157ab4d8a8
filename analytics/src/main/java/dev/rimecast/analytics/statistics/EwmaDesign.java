package dev.rimecast.analytics.statistics;

/**
 * Average run lengths of the two-sided exponentially weighted moving average {@code z = (1 - λ) z + λ x} on independent
 * standard normal values, started at 0, and the limit that gives a wanted one. Limits are constant:
 * {@code ±L √(λ / (2 - λ))}, with L in standard deviations of the average itself.
 *
 * <p>Exact: solves the integral equation of Crowder (1987) for the run length L(u) from the start z = u,
 * {@code L(u) = 1 + (1/λ) ∫ L(y) φ((y - (1 - λ) u) / λ - shift) dy} between the limits, at Gauss-Legendre points (Nyström). The
 * run lengths tabled by Lucas and Saccucci (1990) come out of it to their last digit.
 */
public final class EwmaDesign {
    private static final int FEWEST_POINTS = 40;
    /** Quadrature points per λ between the limits: twice as many change the run length by less than 1e-6 of itself. */
    private static final double POINTS_PER_WEIGHT = 2.5;

    private EwmaDesign() {}

    /** Standard deviation of the average after many values. */
    public static double sigma(double weight) {
        return StrictMath.sqrt(weight / (2 - weight));
    }

    /**
     * Values from the start at zero to the alarm, on average.
     *
     * @param weight λ, of the newest value, above 0 and at most 1
     * @param limit L, in standard deviations of the average
     * @param shift mean of the values, in standard deviations of a value
     */
    public static double averageRunLength(double weight, double limit, double shift) {
        double reach = limit * sigma(weight);
        int n = (int) StrictMath.max(FEWEST_POINTS, StrictMath.ceil(POINTS_PER_WEIGHT * 2 * reach / weight));
        return averageRunLength(weight, reach, shift, n);
    }

    static double averageRunLength(double weight, double reach, double shift, int points) {
        GaussLegendre rule = GaussLegendre.of(points, -reach, reach);
        double[][] system = new double[points][points + 1];
        for (int row = 0; row < points; row++) {
            for (int column = 0; column < points; column++) {
                system[row][column] = (row == column ? 1 : 0) - kernel(weight, rule, column, rule.point(row), shift);
            }
            system[row][points] = 1;
        }
        double[] lengths = LinearSystem.solve(system);
        double length = 1;
        for (int column = 0; column < points; column++) {
            length += kernel(weight, rule, column, 0, shift) * lengths[column];
        }
        return length;
    }

    private static double kernel(double weight, GaussLegendre rule, int column, double start, double shift) {
        double x = (rule.point(column) - (1 - weight) * start) / weight - shift;
        return rule.weight(column) / weight * Normal.density(x);
    }

    /**
     * The limit L with the wanted average run length while nothing has changed, to 1e-6.
     *
     * @param weight λ, 0.005 to 1: below that the integral equation needs more points than are worth solving
     * @param valuesBetweenFalseAlarms wanted average, at least 10
     */
    public static double limitFor(double weight, double valuesBetweenFalseAlarms) {
        if (!(weight >= 0.005 && weight <= 1) || !(valuesBetweenFalseAlarms >= 10)) {
            throw new IllegalArgumentException("the weight must be 0.005 to 1 and the run length at least 10, were "
                    + weight + " and " + valuesBetweenFalseAlarms);
        }
        double low = 0;
        double high = 1;
        while (averageRunLength(weight, high, 0) < valuesBetweenFalseAlarms) {
            low = high;
            high += 0.5;
        }
        while (high - low > 1e-6) {
            double middle = (low + high) / 2;
            if (averageRunLength(weight, middle, 0) < valuesBetweenFalseAlarms) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }
}
