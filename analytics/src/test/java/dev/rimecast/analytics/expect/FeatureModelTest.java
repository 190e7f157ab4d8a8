package dev.rimecast.analytics.expect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.policy.FeatureNumber;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Feature;
import java.util.Optional;
import java.util.Random;
import org.hipparchus.stat.regression.OLSMultipleLinearRegression;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class FeatureModelTest {
    private static final GroupPolicy STANDARD = Policy.standard().forGroup(Optional.empty());
    /** Priors so wide, and learning so even, that what is left is least squares. */
    private static final GroupPolicy FLAT = Policy.parse("""
                    version: flat
                    all:
                      expectation:
                        correlated_cycles: 1
                        settled_cycles: 100000
                        outlier_at: 10
                        place_sensor_spread_kelvin: 0
                      features:
                        split: {typical_spread: 100, ambient_slope_spread: 5, water_slope_spread: 5, cold_slope: 0, cold_slope_spread: 0, bend: 0}
                    """).forGroup(Optional.empty());

    private static Conditions at(double ambient, double water) {
        return new Conditions(ambient, 0, "sensor", water, 0, "sensor");
    }

    /** Oracle: ordinary least squares of Hipparchus 4.0.3. With a wide prior and no outliers both must agree. */
    @Test
    void model_wideFlatPrior_isLeastSquares() {
        Random random = new Random(5);
        int n = 400;
        double[] y = new double[n];
        double[][] x = new double[n][2];
        FeatureModel model = FeatureModel.prior(Feature.SPLIT, FLAT);
        for (int i = 0; i < n; i++) {
            x[i][0] = 20 + 15 * random.nextDouble();
            x[i][1] = 8 + 15 * random.nextDouble();
            y[i] = 14 + 0.2 * (x[i][0] - 25) - 0.1 * (x[i][1] - 15) + 0.5 * random.nextGaussian();
            model.learn(Feature.SPLIT, y[i], at(x[i][0], x[i][1]), 0, FLAT);
        }
        OLSMultipleLinearRegression oracle = new OLSMultipleLinearRegression();
        oracle.newSampleData(y, x);
        double[] beta = oracle.estimateRegressionParameters();

        for (double[] place : new double[][] {{25, 15}, {35, 15}, {25, 25}, {10, 5}}) {
            double expected = beta[0] + beta[1] * place[0] + beta[2] * place[1];
            // The learned noise changes the weights of the first cycles a little.
            assertThat(model.expect(Feature.SPLIT, at(place[0], place[1]), FLAT).mean())
                    .isCloseTo(expected, within(0.05));
        }
        assertThat(Math.sqrt(model.expect(Feature.SPLIT, at(25, 15), FLAT).noise()))
                .as("noise")
                .isCloseTo(0.5, within(0.06));
    }

    /** The typical values are of a 50 kg machine at 25/15; at 32.2/21.1 the model of the trade's notes has 24.0 min [SIM]. */
    @Test
    void model_noCycles_isThePriorWithItsSlopes() {
        FeatureModel model = FeatureModel.prior(Feature.FREEZE, STANDARD);

        double minutes =
                Math.exp(model.expect(Feature.FREEZE, at(32.2, 21.1), STANDARD).mean()) / 60;

        assertThat(minutes).isCloseTo(24.0, within(1.0));
        assertThat(model.expect(Feature.FREEZE, at(25, 15), STANDARD).sigma())
                .isGreaterThan(STANDARD.get(Feature.FREEZE, FeatureNumber.TYPICAL_SPREAD));
    }

    @Test
    void model_twentyCycles_knowsTheMachineAndHowWell() {
        Random random = new Random(9);
        FeatureModel model = FeatureModel.prior(Feature.FREEZE, STANDARD);
        for (int i = 0; i < 20; i++) {
            model.learn(Feature.FREEZE, Math.log(1600) + 0.03 * random.nextGaussian(), at(22 + i % 5, 14), 0, STANDARD);
        }

        Expected near = model.expect(Feature.FREEZE, at(24, 14), STANDARD);
        Expected far = model.expect(Feature.FREEZE, at(40, 30), STANDARD);

        assertThat(Math.exp(near.mean())).isCloseTo(1600, within(35.0));
        assertThat(near.sigma()).isLessThan(0.05);
        assertThat(far.unsure()).as("far from what was seen").isGreaterThan(4 * near.unsure());
    }

    /** @param told what is said to stand on one side of the last cycles, of what does, 0.12 */
    private static Expected afterAMonthOnOneSide(double told) {
        Random random = new Random(9);
        FeatureModel model = FeatureModel.prior(Feature.FREEZE, STANDARD);
        for (int i = 0; i < 600; i++) {
            double value = Math.log(1600) + 0.01 * random.nextGaussian();
            model.learn(Feature.FREEZE, value, at(22 + i % 5, 8), 0, STANDARD);
        }
        for (int i = 0; i < 600; i++) {
            // Of the warmer water that came meanwhile nobody knows how much it does.
            double expected =
                    model.expect(Feature.FREEZE, at(22 + i % 5, 14), STANDARD).mean();
            double value = expected + 0.12 + 0.01 * random.nextGaussian();
            model.learn(Feature.FREEZE, value, at(22 + i % 5, 14), told, STANDARD);
        }
        return model.expect(Feature.FREEZE, at(24, 14), STANDARD);
    }

    @Test
    void whatAllOfTheLastCyclesHaveInCommon_isNoNoise() {
        assertThat(Math.sqrt(afterAMonthOnOneSide(0.12).noise())).isLessThan(0.02);
        assertThat(Math.sqrt(afterAMonthOnOneSide(0).noise()))
                .as("learned as noise it would hide what goes on growing")
                .isGreaterThan(0.05);
    }

    @Test
    void model_wildCycles_hardlyMoveIt() {
        FeatureModel model = FeatureModel.prior(Feature.SPLIT, STANDARD);
        for (int i = 0; i < 200; i++) {
            model.learn(Feature.SPLIT, i % 10 == 9 ? 60 : 14, at(25, 15), 0, STANDARD);
        }

        assertThat(model.expect(Feature.SPLIT, at(25, 15), STANDARD).mean()).isCloseTo(14, within(0.5));
    }

    @Test
    void model_ambientUnknown_saysSoInTheSplit() {
        FeatureModel model = FeatureModel.prior(Feature.SPLIT, STANDARD);
        for (int i = 0; i < 200; i++) {
            model.learn(Feature.SPLIT, 14, at(25, 15), 0, STANDARD);
        }

        Expected unsure = model.expect(Feature.SPLIT, new Conditions(25, 3, "condenser", 15, 0, "sensor"), STANDARD);

        assertThat(Math.sqrt(unsure.unsure())).isCloseTo(3, within(0.3));
    }

    /**
     * Harvests of the lumped model of the trade's notes [SIM]: 292 s at 10 °C and 222 s at 21 °C, 15 K of water apart from none;
     * a straight line through the warm end (222 s at 21, 178 s at 32.2) would have 274 s at 10 °C.
     */
    @Test
    void model_coldRoom_bendsBesideTheStraightLine() {
        FeatureModel model = FeatureModel.prior(Feature.HARVEST, STANDARD);
        double[][] seen = {{10, 292}, {21, 222}, {25, 208}, {32.2, 178}};
        for (int i = 0; i < 400; i++) {
            double[] one = seen[i % seen.length];
            model.learn(Feature.HARVEST, Math.log(one[1]), at(one[0], 15), 0, STANDARD);
        }

        for (double[] one : seen) {
            assertThat(Math.exp(model.expect(Feature.HARVEST, at(one[0], 15), STANDARD)
                            .mean()))
                    .isCloseTo(one[1], within(0.02 * one[1]));
        }
    }

    /**
     * A fan that cycles holds its condenser at 30 °C in a cold room, so the split falls by a kelvin for each that the room gets warmer, until
     * the fan runs all the time (by construction; fan cycling is common practice). What was learned in a cold spring says nothing
     * of where that is: the first warm days are within what is claimed.
     */
    @Test
    void model_fanThatCycledAllSpring_isUnsureOfTheFirstWarmDays() {
        FeatureModel model = FeatureModel.prior(Feature.SPLIT, STANDARD);
        Random random = new Random(11);
        for (int i = 0; i < 1500; i++) {
            double room = 12 + 1.5 * random.nextGaussian();
            model.learn(
                    Feature.SPLIT,
                    Math.max(30, room + 15) - room + 0.3 * random.nextGaussian(),
                    at(room, 12),
                    0,
                    STANDARD);
        }
        for (double room : new double[] {17, 18, 20, 22}) {
            Expected warm = model.expect(Feature.SPLIT, at(room, 13), STANDARD);
            assertThat(15 - warm.mean())
                    .as("K above the expectation in a room of %s °C", room)
                    .isGreaterThan(1.5);
            // Half of it is left of what is prolonged, and three times that is what a change has to be beyond.
            assertThat(15 - warm.mean()).isLessThan(3 * Math.sqrt(0.25 * warm.prolonged()));
        }
        Expected asLearned = model.expect(Feature.SPLIT, at(12, 12), STANDARD);
        assertThat(asLearned.mean()).isCloseTo(18, within(0.3));
        assertThat(Math.sqrt(asLearned.prolonged())).isLessThan(0.1);
    }

    /**
     * A fill of mass m gives up m c (T - 0 °C) until its first ice (sensible heat, ASHRAE Handbook Fundamentals), so at a constant
     * capacity a pull-down is proportional to the water's temperature, with the plate's own heat on top. Learned in summer's
     * water, it holds in winter's: a straight line of the logarithm is 14 % too long there.
     */
    @ParameterizedTest
    @ValueSource(doubles = {0, 1, 3})
    void model_waterOfAnotherSeason_followsTheHeatOfTheFill(double plateKelvin) {
        FeatureModel model = FeatureModel.prior(Feature.PULL_DOWN, STANDARD);
        Random random = new Random(12);
        for (int i = 0; i < 1500; i++) {
            double water = 13 + 9 * random.nextDouble();
            double value = Math.log(10 * (water + plateKelvin)) + 0.03 * random.nextGaussian();
            model.learn(Feature.PULL_DOWN, value, at(25, water), 0, STANDARD);
        }

        for (double water : new double[] {9, 10, 12, 15, 20}) {
            double seconds = 10 * (water + plateKelvin);
            Expected expected = model.expect(Feature.PULL_DOWN, at(25, water), STANDARD);
            assertThat(Math.exp(expected.mean())).isCloseTo(seconds, within(0.07 * seconds));
            assertThat(Math.log(seconds)).isCloseTo(expected.mean(), within(2 * Math.sqrt(expected.unsure())));
        }
    }

    @Test
    void model_savedAndRestored_expectsTheSame() {
        for (Feature feature : new Feature[] {Feature.PULL_DOWN, Feature.SPLIT}) {
            FeatureModel model = FeatureModel.prior(feature, STANDARD);
            for (int i = 0; i < 60; i++) {
                model.learn(feature, 5 + 0.01 * (i % 7), at(20 + i % 9, 10 + i % 5), 0, STANDARD);
            }
            StateWriter out = new StateWriter();
            model.save(out);

            FeatureModel restored = FeatureModel.restore(new StateReader(out.toBytes()));

            assertThat(restored.expect(feature, at(30, 7), STANDARD))
                    .isEqualTo(model.expect(feature, at(30, 7), STANDARD));
        }
    }

    @Test
    void model_conditionsBeyondWhatWasLearned_areLessSure() {
        FeatureModel model = FeatureModel.prior(Feature.HARVEST, STANDARD);
        Random random = new Random(3);
        for (int i = 0; i < 2000; i++) {
            double ambient = 22 + 2 * random.nextGaussian();
            model.learn(Feature.HARVEST, Math.log(200) - 0.03 * (ambient - 25), at(ambient, 15), 0, STANDARD);
        }

        double known =
                Math.sqrt(model.expect(Feature.HARVEST, at(22, 15), STANDARD).unsure());
        double beyond =
                Math.sqrt(model.expect(Feature.HARVEST, at(30, 15), STANDARD).unsure());

        // Half of what the slope adds over the 8 K: the policy's bend of a harvest.
        double bend = STANDARD.get(Feature.HARVEST, FeatureNumber.BEND) * 0.03 * 8;
        assertThat(beyond).isGreaterThan(5 * known).isCloseTo(bend, within(0.25 * bend));
    }
}
