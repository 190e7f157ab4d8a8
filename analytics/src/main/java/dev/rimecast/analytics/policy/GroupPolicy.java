package dev.rimecast.analytics.policy;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Ground.Source;

/** The numbers in force for the machines of one model group. */
public final class GroupPolicy {
    private final double[] numbers;
    private final long[] asMillis;
    private final double[][] features;
    private final Source[] sources;
    private final Source[][] featureSources;
    private final ChangeLimits changeLimits;

    /**
     * @param sources whose each number is
     * @param featureSources the same of those about features
     */
    GroupPolicy(double[] numbers, double[][] features, Source[] sources, Source[][] featureSources) {
        this.sources = sources.clone();
        this.featureSources = featureSources.clone();
        this.numbers = numbers.clone();
        this.asMillis = new long[numbers.length];
        for (int i = 0; i < numbers.length; i++) {
            asMillis[i] = Math.round(numbers[i] * 60_000);
        }
        this.features = new double[features.length][];
        for (int i = 0; i < features.length; i++) {
            this.features[i] = features[i].clone();
        }
        this.changeLimits = ChangeLimits.of(this);
    }

    public double get(PolicyNumber number) {
        return numbers[number.ordinal()];
    }

    public double get(Feature feature, FeatureNumber number) {
        return features[feature.ordinal()][number.ordinal()];
    }

    Source source(PolicyNumber number) {
        return sources[number.ordinal()];
    }

    Source source(Feature feature, FeatureNumber number) {
        return featureSources[feature.ordinal()][number.ordinal()];
    }

    /** A number of minutes as milliseconds. */
    public long millis(PolicyNumber minutes) {
        return asMillis[minutes.ordinal()];
    }

    /** The limits that follow from the wanted false-alarm rate. */
    public ChangeLimits changeLimits() {
        return changeLimits;
    }
}
