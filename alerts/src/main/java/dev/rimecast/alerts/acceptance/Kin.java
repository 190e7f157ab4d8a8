package dev.rimecast.alerts.acceptance;

import dev.rimecast.telemetry.cycle.Acceptance;
import dev.rimecast.telemetry.cycle.Acceptance.Shown;
import dev.rimecast.telemetry.cycle.Acceptance.Verdict;
import dev.rimecast.telemetry.cycle.Feature;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * One feature of a machine's first cycles beside what others of its model group did in theirs. What each did in its own
 * conditions against what the policy expects there is what is compared, so that a hot kitchen can be held against a cool cellar.
 *
 * <pre>
 *   band = median of the others ± 2 max(1.4826 median absolute deviation, least spread)
 * </pre>
 *
 * <p>The least spread between sound machines of a group: {@value #SPREAD_OF_FREEZE} of a freeze, {@value #SPREAD_OF_TIMES} of
 * pull-down and harvest, {@value #SPREAD_OF_SPLIT} K of the split [common practice]. 1.4826 makes the deviation that of a normal
 * distribution (Rousseeuw and Croux 1993).
 *
 * @param others how many it was held against
 * @param low least that they let expect in this machine's conditions, in the feature's unit
 * @param high most
 */
public record Kin(Feature feature, int others, double low, double high, Verdict verdict) {
    static final double SPREAD_OF_FREEZE = 0.08;
    static final double SPREAD_OF_TIMES = 0.15;
    static final double SPREAD_OF_SPLIT = 2;
    private static final int FEWEST_OTHERS = 3;
    private static final int FEWEST_CYCLES = 3;
    private static final double SIGMAS = 2;
    private static final double NORMAL = 1.4826;
    /** Until the last cycle, what is so near the edge of the band is left open. */
    private static final double EDGE_SHARE = 0.2;

    /**
     * Empty where fewer than three others have been looked at.
     *
     * @param others newest acceptances of other machines of the group
     */
    static Optional<Kin> of(Shown own, boolean isLast, List<Acceptance> others) {
        double[] beside = others.stream()
                .filter(other -> other.wrong().isEmpty())
                .flatMap(other -> other.shown().stream())
                .filter(shown -> shown.feature() == own.feature() && shown.cycles() >= FEWEST_CYCLES)
                .mapToDouble(shown -> besideExpected(own.feature(), shown))
                .toArray();
        if (beside.length < FEWEST_OTHERS) {
            return Optional.empty();
        }
        double median = median(beside);
        double deviation = median(
                Arrays.stream(beside).map(each -> Math.abs(each - median)).toArray());
        double band = SIGMAS * Math.max(NORMAL * deviation, leastSpread(own.feature()));
        double far = Math.abs(besideExpected(own.feature(), own) - median);
        return Optional.of(new Kin(
                own.feature(),
                beside.length,
                inUnit(own, median - band),
                inUnit(own, median + band),
                own.cycles() < FEWEST_CYCLES ? Verdict.NOT_YET_KNOWN : verdict(far, band, isLast ? 0 : EDGE_SHARE)));
    }

    private static Verdict verdict(double far, double band, double edge) {
        if (far <= band * (1 - edge)) {
            return Verdict.ACCEPTED;
        }
        return far > band * (1 + edge) ? Verdict.NOT_ACCEPTED : Verdict.NOT_YET_KNOWN;
    }

    private static boolean isKelvin(Feature feature) {
        return feature == Feature.SPLIT;
    }

    private static double besideExpected(Feature feature, Shown shown) {
        return isKelvin(feature) ? shown.measured() - shown.expected() : Math.log(shown.measured() / shown.expected());
    }

    private static double inUnit(Shown own, double beside) {
        return isKelvin(own.feature()) ? own.expected() + beside : own.expected() * Math.exp(beside);
    }

    private static double leastSpread(Feature feature) {
        return switch (feature) {
            case FREEZE -> SPREAD_OF_FREEZE;
            case SPLIT -> SPREAD_OF_SPLIT;
            case PULL_DOWN, HARVEST, EVAPORATOR_END, DRAIN_LEVEL, DRAIN_RUN, FILL, WATER_USE, ICE_MADE ->
                SPREAD_OF_TIMES;
        };
    }

    private static double median(double[] values) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        int middle = sorted.length / 2;
        return sorted.length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }
}
