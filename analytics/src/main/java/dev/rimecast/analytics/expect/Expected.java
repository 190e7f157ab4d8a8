package dev.rimecast.analytics.expect;

/**
 * What a feature should be, on its scale (see {@link FeatureScale}).
 *
 * @param mean expected value
 * @param variance of a single cycle around it: noise, what is not yet known of the machine, and of the conditions
 */
public record Expected(double mean, double variance) {
    public double sigma() {
        return StrictMath.sqrt(variance);
    }
}
