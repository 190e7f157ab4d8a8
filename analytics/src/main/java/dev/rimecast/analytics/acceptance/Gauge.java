package dev.rimecast.analytics.acceptance;

import dev.rimecast.analytics.expect.Expected;
import dev.rimecast.analytics.expect.FeatureScale;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Acceptance.Shown;
import dev.rimecast.telemetry.cycle.Acceptance.Verdict;
import dev.rimecast.telemetry.cycle.Feature;

/**
 * One feature of a machine's first cycles against its kind, in the mean. On the feature's scale, with r the residual against what
 * the kind does and s its standard deviation between machines (what is not known of the place included):
 *
 * <pre>
 *   d = |mean r|     band = k s     e = 2 noise sqrt(min(1, c / n))
 *   accepted: d + e ≤ band     not accepted: d - e &gt; band     at the end: d ≤ band or not
 * </pre>
 *
 * <p>A band that is wider than what faults do can refuse a machine and never accept it. k is {@code kind_sigmas}; c is {@code correlated_cycles}, since the cycles of one afternoon are alike. Memory: 17 bytes.
 */
final class Gauge {
    /** Before so many cycles nothing is said. */
    static final int FEWEST = 3;

    private static final double SURE = 2;
    /** Natural logarithm of 1.8, and K: nearly twice as long, or that much warmer, is what bad faults do [common practice]. */
    private static final double ROUGH_RATIO = 0.6;

    private static final double ROUGH_KELVIN = 5;

    private int cycles;
    private float residual;
    private float expected;
    private float unsure;
    private float noise;

    int cycles() {
        return cycles;
    }

    /** @param value on the feature's scale */
    void take(double value, Expected ofKind) {
        cycles++;
        residual += (float) ((value - ofKind.mean() - residual) / cycles);
        expected += (float) ((ofKind.mean() - expected) / cycles);
        unsure += (float) ((ofKind.unsure() - unsure) / cycles);
        noise += (float) ((ofKind.noise() - noise) / cycles);
    }

    private double band(GroupPolicy policy) {
        return policy.get(PolicyNumber.ACCEPTANCE_SIGMAS) * StrictMath.sqrt(unsure);
    }

    /** Whether the policy knows the kind too badly for a machine inside its band to be called good. */
    boolean isRough(Feature feature, GroupPolicy policy) {
        return band(policy) > (FeatureScale.isRatio(feature) ? ROUGH_RATIO : ROUGH_KELVIN);
    }

    Verdict verdict(Feature feature, boolean isEnd, GroupPolicy policy) {
        if (cycles < FEWEST) {
            return Verdict.NOT_YET_KNOWN;
        }
        double far = StrictMath.abs(residual);
        double band = band(policy);
        double alike = policy.get(PolicyNumber.CORRELATED_CYCLES) / cycles;
        double error = isEnd ? 0 : SURE * StrictMath.sqrt(noise * StrictMath.min(1, alike));
        if (far + error <= band) {
            return isRough(feature, policy) ? Verdict.NOT_YET_KNOWN : Verdict.ACCEPTED;
        }
        return far - error > band ? Verdict.NOT_ACCEPTED : Verdict.NOT_YET_KNOWN;
    }

    Shown shown(Feature feature, boolean isEnd, GroupPolicy policy) {
        double band = band(policy);
        return new Shown(
                feature,
                FeatureScale.toUnit(feature, expected + residual),
                FeatureScale.toUnit(feature, expected),
                FeatureScale.toUnit(feature, expected - band),
                FeatureScale.toUnit(feature, expected + band),
                cycles,
                verdict(feature, isEnd, policy));
    }

    void save(StateWriter out) {
        out.u8(cycles).real32(residual).real32(expected).real32(unsure).real32(noise);
    }

    static Gauge restore(StateReader in) {
        Gauge gauge = new Gauge();
        gauge.cycles = in.u8();
        gauge.residual = in.real32();
        gauge.expected = in.real32();
        gauge.unsure = in.real32();
        gauge.noise = in.real32();
        return gauge;
    }
}
