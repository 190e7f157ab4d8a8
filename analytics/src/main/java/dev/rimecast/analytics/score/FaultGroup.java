package dev.rimecast.analytics.score;

import dev.rimecast.analytics.statistics.WilsonInterval;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What became of some faults together.
 *
 * @param name all, or a cause's code
 * @param found before the deadline
 * @param foundInterval Wilson 90 %; empty without faults
 * @param leadMedian of those found, as share of the possible lead
 * @param leadTenth the lowest tenth of those found
 * @param developing those whose deadline is more than three days after the onset
 * @param threeDays of them found three days before the deadline or earlier
 * @param steps those whose deadline is a day or less after the onset
 * @param delayHoursMedian of the steps that were told at all
 * @param inCycles steps that show in the cycles of a running machine; 0 without cycles
 * @param prompt of them found within three cycles or two hours of running
 * @param firstRight of those found, the first named cause was right
 * @param firstThreeRight of those found, the true cause was among the first three
 * @param sideRight of those found, it was rightly said whether the site can look first
 */
public record FaultGroup(
        String name,
        int faults,
        int found,
        Optional<WilsonInterval> foundInterval,
        OptionalDouble leadMedian,
        OptionalDouble leadTenth,
        int developing,
        int threeDays,
        int steps,
        OptionalDouble delayHoursMedian,
        int inCycles,
        int prompt,
        int firstRight,
        int firstThreeRight,
        int sideRight) {
    private static final double CONFIDENCE = 0.9;

    static FaultGroup of(String name, List<FaultResult> faults, FittingConditions fitting, boolean withCycles) {
        List<FaultResult> found = faults.stream().filter(FaultResult::isFound).toList();
        double[] leads = found.stream()
                .mapToDouble(f -> f.leadShare().orElseThrow())
                .sorted()
                .toArray();
        double[] delays = faults.stream()
                .filter(FaultResult::isStep)
                .flatMap(f -> f.delayHours().stream())
                .mapToDouble(Double::doubleValue)
                .sorted()
                .toArray();
        List<FaultResult> inCycles = faults.stream()
                .filter(f -> withCycles && f.isStep() && fitting.showsInCycles(f.cause()))
                .toList();
        return new FaultGroup(
                name,
                faults.size(),
                found.size(),
                faults.isEmpty()
                        ? Optional.empty()
                        : Optional.of(WilsonInterval.of(found.size(), faults.size(), CONFIDENCE)),
                quantile(leads, 0.5),
                quantile(leads, 0.1),
                (int) faults.stream().filter(FaultResult::givesThreeDays).count(),
                (int) faults.stream()
                        .filter(f -> f.givesThreeDays() && f.isFoundThreeDaysBefore())
                        .count(),
                (int) faults.stream().filter(FaultResult::isStep).count(),
                quantile(delays, 0.5),
                inCycles.size(),
                (int) inCycles.stream().filter(FaultResult::isPrompt).count(),
                (int) found.stream().filter(f -> Named.isRight(f, fitting)).count(),
                (int) found.stream().filter(f -> Named.isAmongFirst(f, fitting)).count(),
                (int) found.stream().filter(f -> Named.isSideRight(f, fitting)).count());
    }

    /** Between the two nearest values, as most packages do by default (Hyndman and Fan 1996, type 7). */
    static OptionalDouble quantile(double[] sorted, double share) {
        if (sorted.length == 0) {
            return OptionalDouble.empty();
        }
        double at = share * (sorted.length - 1);
        int below = (int) at;
        int above = Math.min(sorted.length - 1, below + 1);
        return OptionalDouble.of(sorted[below] + (at - below) * (sorted[above] - sorted[below]));
    }
}
