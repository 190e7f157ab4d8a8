package dev.rimecast.analytics.expect;

import dev.rimecast.analytics.policy.FeatureNumber;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Feature;

/**
 * One machine's own relation of a feature to ambient and water, {@code y = a + bA (ambient - 25) + bW (water - 15)} on the
 * feature's scale.
 *
 * <p>Recursive Bayesian linear regression with the model group's values as prior: with few cycles the prior speaks, with many
 * the machine. Update (Kalman gain, e.g. Särkkä 2013, Bayesian Filtering and Smoothing, section 3.2) with the noise multiplied
 * by {@code correlated_cycles}, since neighbouring cycles tell the same twice; a value further off than {@code outlier_at}
 * standard deviations pulls as one at that distance (Huber 1964). The noise is learned along, from clipped squares.
 *
 * <p>It never forgets, and what is learned late weighs less and less: after {@code settled_cycles} the noise is taken as
 * growing with the number of cycles, so that the level stays that of the first weeks and a slow fault moves it little. The
 * caller stops learning altogether when a residual drifts. Memory: 10 floats. Cost: some 40 multiplications a cycle.
 */
public final class FeatureModel {
    /** Mean of min(z², 4) for standard normal z: what clipping at 2 leaves of the variance. */
    private static final double CLIPPED_AT_2 = 0.9205;

    private static final int PRIOR_CYCLES_OF_NOISE = 20;
    private static final int MOST_CYCLES_OF_NOISE = 300;
    /** The noise is never taken to be less than this share of the policy's. */
    private static final double LEAST_NOISE_SHARE = 0.4;

    private final float[] theta = new float[3];
    /** Upper triangle of the covariance: aa, aA, aW, AA, AW, WW. */
    private final float[] covariance = new float[6];

    private float noiseVariance;
    private int cycles;

    private FeatureModel() {}

    /** A machine of which nothing but its model group is known. */
    public static FeatureModel prior(Feature feature, GroupPolicy policy) {
        FeatureModel model = new FeatureModel();
        model.theta[0] = (float) FeatureScale.toScale(feature, policy.get(feature, FeatureNumber.TYPICAL));
        model.theta[1] = (float) policy.get(feature, FeatureNumber.AMBIENT_SLOPE);
        model.theta[2] = (float) policy.get(feature, FeatureNumber.WATER_SLOPE);
        model.covariance[0] = square(policy.get(feature, FeatureNumber.TYPICAL_SPREAD));
        model.covariance[3] = square(policy.get(feature, FeatureNumber.AMBIENT_SLOPE_SPREAD));
        model.covariance[5] = square(policy.get(feature, FeatureNumber.WATER_SLOPE_SPREAD));
        model.noiseVariance = square(policy.get(feature, FeatureNumber.NOISE));
        return model;
    }

    private static float square(double x) {
        return (float) (x * x);
    }

    /** Cycles learned since the beginning or the last {@link #rebase}. */
    public int cycles() {
        return cycles;
    }

    public Expected expect(Feature feature, Conditions conditions) {
        double xa = conditions.ambientCelsius() - Conditions.REFERENCE_AMBIENT_CELSIUS;
        double xw = conditions.waterCelsius() - Conditions.REFERENCE_WATER_CELSIUS;
        double mean = theta[0] + theta[1] * xa + theta[2] * xw;
        return new Expected(mean, noiseVariance, Math.max(0, ofModel(xa, xw)) + ofPlace(feature, conditions));
    }

    private double ofModel(double xa, double xw) {
        float[] p = covariance;
        return p[0] + 2 * (p[1] * xa + p[2] * xw) + p[3] * xa * xa + 2 * p[4] * xa * xw + p[5] * xw * xw;
    }

    /** What an error of the conditions does; in the split, which is taken from the ambient, it is whole in itself, too. */
    private double ofPlace(Feature feature, Conditions conditions) {
        double slope = feature == Feature.SPLIT ? 1 + theta[1] : theta[1];
        double ambient = conditions.ambientSpreadKelvin();
        double water = conditions.waterSpreadKelvin();
        return (slope * slope + covariance[3]) * ambient * ambient
                + (theta[2] * theta[2] + covariance[5]) * water * water;
    }

    /** Learns one healthy cycle; {@code value} is on the scale. */
    public void learn(Feature feature, double value, Conditions conditions, GroupPolicy policy) {
        double xa = conditions.ambientCelsius() - Conditions.REFERENCE_AMBIENT_CELSIUS;
        double xw = conditions.waterCelsius() - Conditions.REFERENCE_WATER_CELSIUS;
        double ofPlace = ofPlace(feature, conditions);
        double ofModel = ofModel(xa, xw);
        double error = value - (theta[0] + theta[1] * xa + theta[2] * xw);
        double total = noiseVariance + ofModel + ofPlace;
        double reach = policy.get(PolicyNumber.OUTLIER_AT) * StrictMath.sqrt(total);
        double weight = StrictMath.abs(error) <= reach ? 1 : reach / StrictMath.abs(error);
        double settled = 1 + cycles / policy.get(PolicyNumber.SETTLED_CYCLES);
        double observed = (noiseVariance + ofPlace) * policy.get(PolicyNumber.CORRELATED_CYCLES) * settled / weight;
        learnNoise(feature, error, ofModel + ofPlace, policy);
        move(error, xa, xw, ofModel + observed);
        cycles++;
    }

    private void learnNoise(Feature feature, double error, double explained, GroupPolicy policy) {
        double clip = 2 * StrictMath.sqrt(noiseVariance + explained);
        double clipped = StrictMath.min(StrictMath.abs(error), clip);
        double seen = clipped * clipped / CLIPPED_AT_2 - explained;
        double gain = 1.0 / (PRIOR_CYCLES_OF_NOISE + StrictMath.min(cycles, MOST_CYCLES_OF_NOISE));
        double least = policy.get(feature, FeatureNumber.NOISE) * LEAST_NOISE_SHARE;
        noiseVariance = (float) StrictMath.max(least * least, noiseVariance + gain * (seen - noiseVariance));
    }

    private void move(double error, double xa, double xw, double total) {
        float[] p = covariance;
        double ga = p[0] + p[1] * xa + p[2] * xw;
        double gA = p[1] + p[3] * xa + p[4] * xw;
        double gW = p[2] + p[4] * xa + p[5] * xw;
        theta[0] += (float) (ga / total * error);
        theta[1] += (float) (gA / total * error);
        theta[2] += (float) (gW / total * error);
        p[0] -= (float) (ga * ga / total);
        p[1] -= (float) (ga * gA / total);
        p[2] -= (float) (ga * gW / total);
        p[3] -= (float) (gA * gA / total);
        p[4] -= (float) (gA * gW / total);
        p[5] -= (float) (gW * gW / total);
    }

    /**
     * Work has changed the machine: its level is as unknown as {@code spread} says, on the scale; how it depends on the place
     * is kept.
     */
    public void rebase(double spread) {
        covariance[0] += square(spread);
        cycles = 0;
    }

    public void save(StateWriter out) {
        for (float value : theta) {
            out.real32(value);
        }
        for (float value : covariance) {
            out.real32(value);
        }
        out.real32(noiseVariance).whole(cycles);
    }

    public static FeatureModel restore(StateReader in) {
        FeatureModel model = new FeatureModel();
        for (int i = 0; i < model.theta.length; i++) {
            model.theta[i] = in.real32();
        }
        for (int i = 0; i < model.covariance.length; i++) {
            model.covariance[i] = in.real32();
        }
        model.noiseVariance = in.real32();
        model.cycles = in.wholeInt();
        return model;
    }
}
