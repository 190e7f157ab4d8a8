package dev.rimecast.analytics.expect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.cycle.Feature;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/**
 * The expectation's line on data whose line is certified: NIST Statistical Reference Datasets, Norris (linear regression, 36
 * observations): intercept -0.262323073774029, slope 1.00211681802045 with standard errors 0.232818234301152 and
 * 0.000429796848199937, residual deviation 0.884796396144373. The data are from memory; {@code lm} of R 4.2.2 gives the
 * certified values on them to every digit that it prints.
 */
class NorrisTest {
    private static final double SLOPE = 1.00211681802045;
    private static final double SLOPE_ERROR = 0.000429796848199937;
    private static final double INTERCEPT = -0.262323073774029;
    private static final double[] X = {
        .2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777, 558.2, .4, .6, 775.5, 666.9, 338, 447.5, 11.6,
        556, 228.1, 995.8, 887.6, 120.2, .3, .3, 556.8, 339.1, 887.2, 999, 779, 11.1, 118.3, 229.2, 669.1, 448.9, .5
    };
    private static final double[] Y = {
        .1, 338.8, 118.1, 888, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, .3, .1, 778.1, 668.8, 339.3, 448.9, 10.8,
        557.7, 228.3, 998, 888.8, 119.6, .3, .6, 557.6, 339.3, 888, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, .2
    };

    /** A prior that weighs a fiftieth of the data, one value as good as another, nothing held: least squares, value after value. */
    private static final GroupPolicy PLAIN = Policy.parse("""
            version: plain-least-squares
            all:
              expectation: {settled_cycles: 100000, correlated_cycles: 1, outlier_at: 10}
              features:
                split: {typical: 25, typical_spread: 1, ambient_slope: 1, ambient_slope_spread: 0.003, water_slope: 0,
                  water_slope_spread: 0, cold_slope: 0, cold_slope_spread: 0, noise: 0.9, bend: 0}
            """).forGroup(Optional.empty());

    private static Conditions at(double x) {
        return new Conditions(x, 0, Conditions.SENSOR, 15, 0, Conditions.SENSOR);
    }

    @Test
    void line_norris_isTheCertifiedOne() {
        FeatureModel model = FeatureModel.prior(Feature.SPLIT, PLAIN);
        for (int i = 0; i < X.length; i++) {
            model.learn(Feature.SPLIT, Y[i], at(X[i]), 0, PLAIN);
        }
        Expected low = model.expect(Feature.SPLIT, at(0), PLAIN);
        Expected high = model.expect(Feature.SPLIT, at(1000), PLAIN);
        double slope = (high.mean() - low.mean()) / 1000;

        // The noise is learned along the way, so that values weigh a little differently: within half the standard
        // error.
        assertThat(slope).isCloseTo(SLOPE, within(SLOPE_ERROR / 2));
        assertThat(low.mean()).isCloseTo(INTERCEPT, within(0.232818234301152 / 2));
        assertThat(Math.sqrt(low.unsure())).as("its own word on its error").isCloseTo(0.2328, within(0.2328 / 5));
        assertThat(Math.sqrt(low.noise())).as("deviation of a value").isCloseTo(0.8848, within(0.8848 / 5));
    }
}
