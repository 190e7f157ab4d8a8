package dev.rimecast.analytics.statistics;

/**
 * Exact bounds of a Poisson mean: F. Garwood, Fiducial limits for the Poisson distribution, Biometrika 28 (1936),
 * pages 437 to 442. The mean at which so few events or fewer, or so many or more, have only the
 * probability that is left.
 */
public final class PoissonBound {
    private static final int STEPS = 200;

    private PoissonBound() {}

    /**
     * The one-sided upper bound.
     *
     * @param events counted, 0 or more
     * @param confidence e.g. 0.9
     */
    public static double upper(int events, double confidence) {
        if (events < 0 || !(confidence > 0 && confidence < 1)) {
            throw new IllegalArgumentException(
                    "events must be 0 or more and confidence between 0 and 1: " + events + ", " + confidence);
        }
        double low = events;
        double high = events + 10 + 10 * StrictMath.sqrt(events + 1.0);
        while (atMost(events, high) > 1 - confidence) {
            high *= 2;
        }
        for (int i = 0; i < STEPS && high > low; i++) {
            double middle = (low + high) / 2;
            if (atMost(events, middle) > 1 - confidence) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }

    /**
     * The one-sided lower bound; 0 of no events.
     *
     * @param events counted, 0 or more
     * @param confidence e.g. 0.9
     */
    public static double lower(int events, double confidence) {
        if (events < 0 || !(confidence > 0 && confidence < 1)) {
            throw new IllegalArgumentException(
                    "events must be 0 or more and confidence between 0 and 1: " + events + ", " + confidence);
        }
        double low = 0;
        double high = events;
        for (int i = 0; i < STEPS && high > low; i++) {
            double middle = (low + high) / 2;
            if (atMost(events - 1, middle) > confidence) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }

    /** Probability of {@code events} or fewer; summed from the greatest term down, so that nothing underflows first. */
    static double atMost(int events, double mean) {
        double logTerm = -mean;
        for (int i = 1; i <= events; i++) {
            logTerm += StrictMath.log(mean / i);
        }
        double term = 1;
        double sum = 1;
        for (int i = events; i > 0 && term > 1e-18; i--) {
            term *= i / mean;
            sum += term;
        }
        return StrictMath.min(1, StrictMath.exp(logTerm) * sum);
    }
}
