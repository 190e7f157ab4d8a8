package dev.rimecast.analytics.expect;

/**
 * What a feature should be, on its scale (see {@link FeatureScale}).
 *
 * @param mean expected value
 * @param noise variance of a single cycle around what this machine really should do
 * @param unsure variance of the expectation itself: what is not yet known of the machine, and of the conditions. It is the
 *     same for the cycles of one afternoon, so no median of them makes it smaller.
 * @param prolonged variance that is part of {@code unsure}: what slopes may be wrong by beyond what the machine has shown
 */
public record Expected(double mean, double noise, double unsure, double prolonged) {
    /** Of a single cycle around the mean. */
    public double sigma() {
        return StrictMath.sqrt(noise + unsure);
    }
}
