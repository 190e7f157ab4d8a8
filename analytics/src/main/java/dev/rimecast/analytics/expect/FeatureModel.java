package dev.rimecast.analytics.expect;

import dev.rimecast.analytics.policy.FeatureNumber;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Feature;

/**
 * One machine's own relation of a feature to ambient and water,
 * {@code y = a + bA (ambient - 25) + bW (water - 15) + bC max(0, 20 - ambient) + cW (water - 15)² / 2} on the feature's scale.
 * The fourth term is the cold room: below about 20 °C many machines hold their condensing temperature up (a fan that cycles, a head-pressure
 * valve), and less hot gas makes harvests longer than a straight line has it. The last is that heat is proportional to the
 * water's temperature, while a pull-down is judged by its logarithm; water is held within {@value #CURVED_KELVIN} K for it.
 *
 * <p>Recursive Bayesian linear regression with the model group's values as prior: with few cycles the prior speaks, with many
 * the machine. Update (Kalman gain, e.g. Särkkä 2013, Bayesian Filtering and Smoothing, section 3.2) with the noise multiplied
 * by {@code correlated_cycles}, since neighbouring cycles tell the same twice; a value further off than {@code outlier_at}
 * standard deviations pulls as one at that distance (Huber 1964). The noise is learned along, from clipped squares.
 *
 * <p>No relation is straight: a share {@code bend} of what the slopes add beyond the mean conditions of what was learned is
 * taken as unsure. And where the cold ends differs: a fan that cycles at 30 °C of condensing temperature ends it at 15 °C of
 * ambient. What the cold term takes away while it gets warmer than was learned may be there still.
 *
 * <p>It never forgets, and what is learned late weighs less and less: after {@code settled_cycles} the noise is taken as
 * growing with the number of cycles, so that the level stays that of the first weeks and a slow fault moves it little. The
 * caller stops learning altogether when a residual drifts. Memory: 34 floats. Cost: some 110 multiplications a cycle.
 */
public final class FeatureModel {
    /** Mean of min(z², 4) for standard normal z: what clipping at 2 leaves of the variance. */
    private static final double CLIPPED_AT_2 = 0.9205;

    private static final int PRIOR_CYCLES_OF_NOISE = 20;
    private static final int MOST_CYCLES_OF_NOISE = 300;
    /** The noise is never taken to be less than this share of the policy's. */
    private static final double LEAST_NOISE_SHARE = 0.4;

    private static final double COLD_BELOW_CELSIUS = 20;
    /** Standard deviation of where between the learned ambient and that the cold ends, as a share of the way. */
    private static final double COLD_MAY_END = 0.5;
    /** From this layout of a machine's state on it has a curve. */
    private static final int WITH_CURVE = 11;

    /** From this one on nothing of a curve where there is none. */
    private static final int WITHOUT_STRAIGHT = 15;

    private static final double CURVED_KELVIN = 12;
    private static final int STRAIGHT_TERMS = 4;
    private static final int CURVE = 4;
    private static final int TERMS = 5;

    private final float[] theta = new float[TERMS];
    /** Covariance of theta, whole and symmetric. */
    private final float[] covariance = new float[TERMS * TERMS];

    private float noiseVariance;
    private int cycles;
    /** Sum of the weights that cycles were learned with, and the conditions that they had in the mean. */
    private float learned;

    private float meanAmbient;
    private float meanWater;

    private FeatureModel() {}

    /** A machine of which nothing but its model group is known. */
    public static FeatureModel prior(Feature feature, GroupPolicy policy) {
        FeatureModel model = new FeatureModel();
        model.theta[0] = (float) FeatureScale.toScale(feature, policy.get(feature, FeatureNumber.TYPICAL));
        model.theta[1] = (float) policy.get(feature, FeatureNumber.AMBIENT_SLOPE);
        model.theta[2] = (float) policy.get(feature, FeatureNumber.WATER_SLOPE);
        model.theta[3] = (float) policy.get(feature, FeatureNumber.COLD_SLOPE);
        model.theta[CURVE] = (float) policy.get(feature, FeatureNumber.WATER_CURVE);
        model.variance(0, policy.get(feature, FeatureNumber.TYPICAL_SPREAD));
        model.variance(1, policy.get(feature, FeatureNumber.AMBIENT_SLOPE_SPREAD));
        model.variance(2, policy.get(feature, FeatureNumber.WATER_SLOPE_SPREAD));
        model.variance(3, policy.get(feature, FeatureNumber.COLD_SLOPE_SPREAD));
        model.variance(CURVE, policy.get(feature, FeatureNumber.WATER_CURVE_SPREAD));
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

    private void variance(int term, double spread) {
        covariance[term * TERMS + term] += square(spread);
    }

    private static double[] terms(Conditions conditions) {
        double ambient = conditions.ambientCelsius();
        double water = conditions.waterCelsius() - Conditions.REFERENCE_WATER_CELSIUS;
        double curved = StrictMath.max(-CURVED_KELVIN, StrictMath.min(CURVED_KELVIN, water));
        return new double[] {
            1,
            ambient - Conditions.REFERENCE_AMBIENT_CELSIUS,
            water,
            StrictMath.max(0, COLD_BELOW_CELSIUS - ambient),
            curved * curved / 2
        };
    }

    private double mean(double[] x) {
        double mean = 0;
        for (int i = 0; i < TERMS; i++) {
            mean += theta[i] * x[i];
        }
        return mean;
    }

    /** Covariance times x. */
    private double[] spread(double[] x) {
        double[] spread = new double[TERMS];
        for (int i = 0; i < TERMS; i++) {
            for (int j = 0; j < TERMS; j++) {
                spread[i] += covariance[i * TERMS + j] * x[j];
            }
        }
        return spread;
    }

    private static double product(double[] a, double[] b) {
        double sum = 0;
        for (int i = 0; i < TERMS; i++) {
            sum += a[i] * b[i];
        }
        return sum;
    }

    public Expected expect(Feature feature, Conditions conditions, GroupPolicy policy) {
        return expect(feature, conditions, 0, policy);
    }

    /** @param readings standard deviation, on the scale, of what comes of when the readings were taken: the noise is no less, however alike some cycles were */
    public Expected expect(Feature feature, Conditions conditions, double readings, GroupPolicy policy) {
        double[] x = terms(conditions);
        double ofModel = StrictMath.max(0, product(x, spread(x)));
        double bend = policy.get(feature, FeatureNumber.BEND) * beyondExperience(feature, conditions, policy);
        double cold = COLD_MAY_END * coldThatMayEnd(conditions);
        double unsure = ofModel + bend * bend + cold * cold + ofPlace(feature, conditions);
        return new Expected(mean(x), StrictMath.max(noiseVariance, readings * readings), unsure, cold * cold);
    }

    /** How far what this machine does is beside what its kind does, at the conditions that were learned in the mean. */
    public OfKind ofKind(Feature feature, GroupPolicy policy) {
        double[] x = terms(new Conditions(meanAmbient, 0, "", meanWater, 0, ""));
        FeatureModel kind = prior(feature, policy);
        double error = StrictMath.sqrt(StrictMath.max(0, product(x, spread(x))));
        return new OfKind(mean(x), mean(x) - kind.mean(x), error, StrictMath.sqrt(product(x, kind.spread(x))));
    }

    /**
     * How much of the expectation comes from prolonging the slopes beyond the conditions that were learned in the mean. A
     * slope that was learned small in a few alike weeks is not thought to stay so small: it counts at least as its kind's.
     */
    private double beyondExperience(Feature feature, Conditions conditions, GroupPolicy policy) {
        if (learned == 0) {
            return 0;
        }
        double ofAmbient = steepest(slopeOfAmbient(conditions), feature, FeatureNumber.AMBIENT_SLOPE, policy);
        double ofWater = steepest(theta[2], feature, FeatureNumber.WATER_SLOPE, policy);
        return ofAmbient * StrictMath.abs(conditions.ambientCelsius() - meanAmbient)
                + ofWater * StrictMath.abs(conditions.waterCelsius() - meanWater);
    }

    /** What the term of the cold loses from the ambient that was learned in the mean to this one. */
    private double coldThatMayEnd(Conditions conditions) {
        if (learned == 0) {
            return 0;
        }
        double warmer = StrictMath.min(COLD_BELOW_CELSIUS, conditions.ambientCelsius()) - meanAmbient;
        return StrictMath.abs(theta[3]) * StrictMath.max(0, warmer);
    }

    private static double steepest(double slope, Feature feature, FeatureNumber ofKind, GroupPolicy policy) {
        return StrictMath.max(StrictMath.abs(slope), StrictMath.abs(policy.get(feature, ofKind)));
    }

    private double slopeOfAmbient(Conditions conditions) {
        return theta[1] - (conditions.ambientCelsius() < COLD_BELOW_CELSIUS ? theta[3] : 0);
    }

    /** What an error of the conditions does; in the split, which is taken from the ambient, it is whole in itself, too. */
    private double ofPlace(Feature feature, Conditions conditions) {
        double ofAmbient = slopeOfAmbient(conditions);
        double slope = feature == Feature.SPLIT ? 1 + ofAmbient : ofAmbient;
        double ambient = conditions.ambientSpreadKelvin();
        double water = conditions.waterSpreadKelvin();
        return (slope * slope + covariance[TERMS + 1]) * ambient * ambient
                + (theta[2] * theta[2] + covariance[2 * TERMS + 2]) * water * water;
    }

    /**
     * Learns one healthy cycle.
     *
     * @param value on the scale
     * @param standing the median of the last dozen residuals, on the scale, 0 where there are fewer: when that alone is beyond the noise of one cycle it is no
     *     noise, and would hide what grows slowly if it were learned as such
     */
    public void learn(Feature feature, double value, Conditions conditions, double standing, GroupPolicy policy) {
        double[] x = terms(conditions);
        double[] spread = spread(x);
        double ofPlace = ofPlace(feature, conditions);
        double ofModel = StrictMath.max(0, product(x, spread));
        double error = value - mean(x);
        double total = noiseVariance + ofModel + ofPlace;
        double reach = policy.get(PolicyNumber.OUTLIER_AT) * StrictMath.sqrt(total);
        double weight = StrictMath.abs(error) <= reach ? 1 : reach / StrictMath.abs(error);
        double settled = 1 + cycles / policy.get(PolicyNumber.SETTLED_CYCLES);
        double observed = (noiseVariance + ofPlace) * policy.get(PolicyNumber.CORRELATED_CYCLES) * settled / weight;
        boolean isNoise = StrictMath.abs(standing) <= StrictMath.sqrt(noiseVariance);
        learnNoise(feature, isNoise ? error : error - standing, isNoise ? ofModel + ofPlace : 0, policy);
        move(error, spread, ofModel + observed, isLearnable(conditions));
        learned += (float) (1 / settled);
        meanAmbient += (float) ((conditions.ambientCelsius() - meanAmbient) / settled / learned);
        meanWater += (float) ((conditions.waterCelsius() - meanWater) / settled / learned);
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

    /** The slope of water is learned only from water measured at the machine: what goes with the season would be a fault that grows. */
    private static boolean[] isLearnable(Conditions conditions) {
        boolean isMeasured = conditions.waterSource().equals(Conditions.SENSOR);
        return new boolean[] {true, true, isMeasured, true, isMeasured};
    }

    /** Schmidt's form of the update: what is not learned is still allowed for. */
    private void move(double error, double[] spread, double total, boolean[] isLearnable) {
        double[] gain = new double[TERMS];
        for (int i = 0; i < TERMS; i++) {
            gain[i] = isLearnable[i] ? spread[i] / total : 0;
            theta[i] += (float) (gain[i] * error);
        }
        for (int i = 0; i < TERMS; i++) {
            for (int j = 0; j < TERMS; j++) {
                covariance[i * TERMS + j] +=
                        (float) (gain[i] * gain[j] * total - gain[i] * spread[j] - spread[i] * gain[j]);
            }
        }
    }

    /**
     * Work has changed the machine: its level is as unknown as {@code spread} says, on the scale; how it depends on the place
     * is kept.
     */
    public void rebase(double spread) {
        variance(0, spread);
        cycles = 0;
    }

    public void save(StateWriter out) {
        for (int i = 0; i < STRAIGHT_TERMS; i++) {
            out.real32(theta[i]);
        }
        for (int i = 0; i < STRAIGHT_TERMS; i++) {
            for (int j = i; j < STRAIGHT_TERMS; j++) {
                out.real32(covariance[i * TERMS + j]);
            }
        }
        out.real32(noiseVariance).whole(cycles);
        out.real32(learned).real32(meanAmbient).real32(meanWater);
        saveCurve(out);
    }

    /** Most features have none, and none to learn. */
    private void saveCurve(StateWriter out) {
        boolean isLearned = covariance[CURVE * TERMS + CURVE] > 0;
        boolean isBent = isLearned || theta[CURVE] != 0;
        out.flag(isBent);
        if (isBent) {
            out.real32(theta[CURVE]).flag(isLearned);
        }
        if (isLearned) {
            for (int i = 0; i < TERMS; i++) {
                out.real32(covariance[i * TERMS + CURVE]);
            }
        }
    }

    /** What was learned straight, in a layout before, stays so. */
    private void restoreCurve(StateReader in) {
        if (!in.hasLayout(WITH_CURVE)) {
            return;
        }
        boolean isBent = !in.hasLayout(WITHOUT_STRAIGHT) || in.flag();
        if (isBent) {
            theta[CURVE] = in.real32();
        }
        if (isBent && in.flag()) {
            for (int i = 0; i < TERMS; i++) {
                float value = in.real32();
                covariance[i * TERMS + CURVE] = value;
                covariance[CURVE * TERMS + i] = value;
            }
        }
    }

    public static FeatureModel restore(StateReader in) {
        FeatureModel model = new FeatureModel();
        for (int i = 0; i < STRAIGHT_TERMS; i++) {
            model.theta[i] = in.real32();
        }
        for (int i = 0; i < STRAIGHT_TERMS; i++) {
            for (int j = i; j < STRAIGHT_TERMS; j++) {
                float value = in.real32();
                model.covariance[i * TERMS + j] = value;
                model.covariance[j * TERMS + i] = value;
            }
        }
        model.noiseVariance = in.real32();
        model.cycles = in.wholeInt();
        model.learned = in.real32();
        model.meanAmbient = in.real32();
        model.meanWater = in.real32();
        model.restoreCurve(in);
        return model;
    }
}
