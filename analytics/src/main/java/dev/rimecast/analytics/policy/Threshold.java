package dev.rimecast.analytics.policy;

import dev.rimecast.analytics.policy.Threshold.BuiltIn;
import dev.rimecast.analytics.policy.Threshold.OfFeature;
import dev.rimecast.analytics.policy.Threshold.OfRegister;
import dev.rimecast.telemetry.cycle.Feature;

/** A number that a rule goes by, as a rule names it; what it is for a machine, {@link Grounding} says. */
public sealed interface Threshold permits PolicyNumber, OfFeature, OfRegister, BuiltIn {

    /** A number of the policy about a feature of a cycle. */
    record OfFeature(Feature feature, FeatureNumber number) implements Threshold {}

    /**
     * A number of the machine's row that no policy has.
     *
     * @param column of {@code machines.csv}
     */
    record OfRegister(String column, double value, String unit) implements Threshold {}

    /** A number that is part of the detector, which no policy can change. */
    record BuiltIn(String name, double value, String unit) implements Threshold {}
}
