package dev.rimecast.analytics.diagnosis;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * One line of the matrix: what a cause does, at growing severity, to machines of some kinds of control.
 *
 * @param weight how often it is the cause, relative to the others
 * @param afterWork whether it comes with any work on the machine: a cleaning, a washed filter, a visit, a move
 * @param afterVisit whether it comes with an engineer's visit only
 * @param comesWhole whether it is there or not: there is no small severity of it
 * @param drainSignals whether it makes long drain level signals long alike
 * @param points change of every feature on its scale (see {@link dev.rimecast.analytics.expect.FeatureScale})
 * @param freezeEndsBy the kinds of control that it holds for; all of them if empty
 * @param fillEndsBy the same for the fill
 */
record Symptoms(
        Cause cause,
        double weight,
        Course course,
        boolean afterWork,
        boolean afterVisit,
        boolean comesWhole,
        DrainSignals drainSignals,
        List<Map<Feature, Double>> points,
        Set<EndsBy> freezeEndsBy,
        Set<EndsBy> fillEndsBy) {

    /** Of the smallest changes nobody knows the sign. */
    private static final double NOTHING = 0.02;

    Symptoms {
        points = List.copyOf(points);
        freezeEndsBy = Set.copyOf(freezeEndsBy);
        fillEndsBy = Set.copyOf(fillEndsBy);
    }

    /** The same without its worst: up to the second of its sizes. */
    Symptoms mild() {
        return new Symptoms(
                cause,
                weight,
                course,
                afterWork,
                afterVisit,
                comesWhole,
                drainSignals,
                points.subList(0, Math.min(2, points.size())),
                freezeEndsBy,
                fillEndsBy);
    }

    /** Whether it holds for a machine of this control, or may, where that is unknown. */
    boolean mayHold(Optional<EndsBy> freeze, Optional<EndsBy> fill) {
        return mayHold(freezeEndsBy, freeze) && mayHold(fillEndsBy, fill);
    }

    private static boolean mayHold(Set<EndsBy> kinds, Optional<EndsBy> kind) {
        return kinds.isEmpty() || kind.isEmpty() || kinds.contains(kind.get());
    }

    /** Change of the feature a share of the way from point {@code index - 1}, or from health, to point {@code index}. */
    double change(Feature feature, int index, double share) {
        double from = index == 0 ? 0 : points.get(index - 1).getOrDefault(feature, 0.0);
        double to = points.get(index).getOrDefault(feature, 0.0);
        return from + (to - from) * share;
    }

    /** Whether the cause makes the feature more, less, or leaves it, before it is at its worst. */
    int sign(Feature feature) {
        double change = points.get(points.size() / 2).getOrDefault(feature, 0.0);
        return StrictMath.abs(change) < NOTHING ? 0 : (int) StrictMath.signum(change);
    }
}
