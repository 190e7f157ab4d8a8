package dev.rimecast.dashboard.json;

import dev.rimecast.telemetry.cycle.Cycle;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * One freeze and the harvest after it.
 *
 * @param expected what this machine should have shown in these conditions, by feature
 */
public record CycleJson(
        Instant freezeStart,
        Instant end,
        boolean complete,
        @Nullable Double pullDownSeconds,
        @Nullable Double freezeSeconds,
        @Nullable Double harvestSeconds,
        @Nullable Double condensingPeakCelsius,
        @Nullable Double condensingMeanCelsius,
        @Nullable Double splitKelvin,
        @Nullable Double evaporatorEndCelsius,
        @Nullable Double ambientCelsius,
        String ambientSource,
        @Nullable Double waterCelsius,
        String waterSource,
        @Nullable Integer drainRuns,
        @Nullable Double drainLevelMaxSeconds,
        @Nullable Double drainRunMaxSeconds,
        Map<String, ExpectedJson> expected) {

    /** Expectation and one standard deviation of what is normal around it, in the feature's unit. */
    public record ExpectedJson(double value, double sigma) {}

    public static CycleJson of(Cycle cycle) {
        Map<String, ExpectedJson> expected = new LinkedHashMap<>();
        for (Cycle.Residual residual : cycle.residuals()) {
            expected.put(
                    residual.feature().code(),
                    new ExpectedJson(Rounded.to2(residual.expected()), Rounded.to2(residual.sigma())));
        }
        return new CycleJson(
                cycle.freezeStart(),
                cycle.end(),
                cycle.complete(),
                Rounded.orNull1(cycle.pullDownSeconds()),
                Rounded.orNull1(cycle.freezeSeconds()),
                Rounded.orNull1(cycle.harvestSeconds()),
                Rounded.orNull2(cycle.condensingPeakCelsius()),
                Rounded.orNull2(cycle.condensingMeanCelsius()),
                Rounded.orNull2(cycle.splitKelvin()),
                Rounded.orNull2(cycle.evaporatorEndCelsius()),
                Rounded.orNull2(cycle.ambientCelsius()),
                cycle.ambientSource(),
                Rounded.orNull2(cycle.waterCelsius()),
                cycle.waterSource(),
                cycle.drainRuns().isPresent()
                        ? Integer.valueOf(cycle.drainRuns().getAsInt())
                        : null,
                Rounded.orNull2(cycle.drainLevelMaxSeconds()),
                Rounded.orNull2(cycle.drainRunMaxSeconds()),
                expected);
    }
}
