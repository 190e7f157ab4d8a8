package dev.rimecast.analytics.proof;

import dev.rimecast.analytics.expect.FeatureScale;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Cycle.Residual;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.proof.Proof.Shown;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/** What is to be proved of one feature. */
final class Part {
    private static final int MOST_AHEAD = 10;
    /** Of single cycles, beyond what the change was: one wild cycle does not outweigh nine. */
    private static final double CLIP = 3;
    /** What the first cycles show is settled by then; later ones are looked at as they are then. */
    private static final int MOST_COUNTED = 20;

    private final Complaint complaint;
    /** What the work may have changed of what is normal, on the scale: learned anew only once it has held. */
    private float spread;

    private int cycles;
    private float sum;
    private float measured;
    private float expected;
    private float sigma;

    Part(Complaint complaint) {
        // As precise as it is kept: a restart changes nothing.
        this.complaint = new Complaint(complaint.feature(), complaint.upward(), (float) complaint.level());
    }

    Feature feature() {
        return complaint.feature();
    }

    Complaint complaint() {
        return complaint;
    }

    void touched(double by) {
        spread = (float) StrictMath.max(spread, by);
    }

    /** What is to be learned anew, once. */
    double takeSpread() {
        double taken = spread;
        spread = 0;
        return taken;
    }

    /** Cycles since the work in which it could be judged, at most {@value #MOST_COUNTED}. */
    int cycles() {
        return cycles;
    }

    void take(Residual residual, Standing standing) {
        double off = FeatureScale.toScale(feature(), residual.measured())
                - FeatureScale.toScale(feature(), residual.expected());
        double most = StrictMath.max(complaint.level(), standing.material())
                + CLIP * StrictMath.sqrt(standing.noise() + standing.unsure());
        double towards = complaint.upward() ? off : -off;
        if (cycles < MOST_COUNTED) {
            cycles++;
            sum += (float) StrictMath.max(-most, StrictMath.min(most, towards));
        }
        measured = (float) residual.measured();
        expected = (float) residual.expected();
        sigma = (float) residual.sigma();
    }

    /** By the mean of every cycle since the work. */
    double probability(Standing standing, GroupPolicy policy) {
        return probability(sum / cycles, cycles, standing, policy);
    }

    /** By the last cycles, whatever those before showed. */
    double probabilityLately(Standing standing, GroupPolicy policy) {
        double level = complaint.upward() ? standing.level() : -standing.level();
        return probability(level, standing.cycles(), standing, policy);
    }

    private double probability(double mean, int n, Standing standing, GroupPolicy policy) {
        return HeldOdds.probability(
                mean,
                n,
                complaint.level(),
                standing.withUnsure(standing.unsure() + spread * spread),
                policy.get(PolicyNumber.AUTOCORRELATION),
                policy.get(PolicyNumber.PROOF_LEFT_SHARE));
    }

    /** More work was done: what was seen until then says nothing of it. */
    void beginAnew() {
        cycles = 0;
        sum = 0;
    }

    /** How many more cycles like these make it certain, either way; 0 if it is. */
    OptionalInt more(Standing standing, GroupPolicy policy, double certainty) {
        for (int ahead = 0; ahead <= MOST_AHEAD; ahead++) {
            double then = probability(sum / cycles, cycles + ahead, standing, policy);
            if (then >= certainty || then <= 1 - certainty) {
                return OptionalInt.of(ahead);
            }
        }
        return OptionalInt.empty();
    }

    Shown shown(double probability) {
        double before = FeatureScale.toUnit(
                feature(),
                FeatureScale.toScale(feature(), expected) + (complaint.upward() ? 1 : -1) * complaint.level());
        return new Shown(
                feature(),
                complaint.level() > 0 ? OptionalDouble.of(before) : OptionalDouble.empty(),
                measured,
                expected,
                sigma,
                cycles,
                probability);
    }

    void save(StateWriter out) {
        out.u8(feature().ordinal()).flag(complaint.upward()).real32((float) complaint.level());
        out.real32(spread);
        out.u8(cycles).real32(sum).real32(measured).real32(expected).real32(sigma);
    }

    static Part restore(StateReader in) {
        Feature feature = Feature.values()[in.u8()];
        Part part = new Part(new Complaint(feature, in.flag(), in.real32()));
        part.spread = in.real32();
        part.cycles = in.u8();
        part.sum = in.real32();
        part.measured = in.real32();
        part.expected = in.real32();
        part.sigma = in.real32();
        return part;
    }
}
