package dev.rimecast.analytics.diagnosis;

import dev.rimecast.telemetry.cycle.Feature;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/** A line of the matrix at every size at which it is asked, worked out once: the alerts of a fleet ask all lines with each cycle. */
final class Sizes {
    private static final Feature[] FEATURES = Feature.values();
    private static final double[] SHARES = {0.25, 0.5, 0.75, 1};
    /** Machines differ in how much of their air one fan moves. */
    private static final double[] WHOLE_SHARES = {0.5, 0.75, 1};

    /** One size: a share of the way from a point of the line to the next, or from health to the first. */
    static final class Size {
        private final int point;
        private final double share;
        private final double[] changes = new double[FEATURES.length];

        private Size(Symptoms line, int point, double share) {
            this.point = point;
            this.share = share;
            for (Feature feature : FEATURES) {
                changes[feature.ordinal()] = line.change(feature, point, share);
            }
        }

        int point() {
            return point;
        }

        double share() {
            return share;
        }

        double change(Feature feature) {
            return changes[feature.ordinal()];
        }
    }

    private final Symptoms line;
    private final double logWeight;
    private final List<Size> all;
    /** By feature, the furthest up and down at any point. */
    private final double[] most = new double[FEATURES.length];

    private final double[] least = new double[FEATURES.length];

    Sizes(Symptoms line) {
        this.line = line;
        logWeight = StrictMath.log(line.weight());
        List<Size> sizes = new ArrayList<>();
        for (int point = 0; point < line.points().size(); point++) {
            for (double share : point == 0 && line.comesWhole() ? WHOLE_SHARES : SHARES) {
                sizes.add(new Size(line, point, share));
            }
        }
        all = List.copyOf(sizes);
        for (Map<Feature, Double> point : line.points()) {
            point.forEach((feature, change) -> {
                most[feature.ordinal()] = Math.max(most[feature.ordinal()], change);
                least[feature.ordinal()] = Math.min(least[feature.ordinal()], change);
            });
        }
    }

    Symptoms line() {
        return line;
    }

    /** Natural logarithm of the line's weight. */
    double logWeight() {
        return logWeight;
    }

    /** From small to large. */
    List<Size> all() {
        return all;
    }

    /** Whether the line moves this feature that way, by at least so much; {@code change} is above 0. */
    boolean moves(Feature feature, boolean upward, double change) {
        return upward ? most[feature.ordinal()] >= change : -least[feature.ordinal()] >= change;
    }
}
