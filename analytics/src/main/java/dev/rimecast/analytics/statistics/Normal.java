package dev.rimecast.analytics.statistics;

/** The standard normal distribution. */
public final class Normal {
    private static final double INVERSE_ROOT_TWO_PI = 0.398942280401432677939946;

    private Normal() {}

    public static double density(double x) {
        return INVERSE_ROOT_TWO_PI * StrictMath.exp(-0.5 * x * x);
    }

    /**
     * Probability of a value below {@code x}, absolute error below 1e-15: the series of G. Marsaglia, Evaluating the
     * Normal Distribution, J. Stat. Software 11(4), 2004, section 3.
     */
    public static double below(double x) {
        if (x < -8) {
            return 0;
        }
        if (x > 8) {
            return 1;
        }
        double sum = x;
        double term = x;
        double before = 0;
        for (int i = 3; sum != before; i += 2) {
            before = sum;
            term *= x * x / i;
            sum += term;
        }
        return 0.5 + sum * density(x);
    }

    /** The value that {@code probability} of all are below, by bisection to 1e-12; {@code 0 < probability < 1}. */
    public static double quantile(double probability) {
        if (!(probability > 0 && probability < 1)) {
            throw new IllegalArgumentException("probability must be between 0 and 1, was " + probability);
        }
        double low = -8;
        double high = 8;
        while (high - low > 1e-12) {
            double middle = (low + high) / 2;
            if (below(middle) < probability) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }
}
