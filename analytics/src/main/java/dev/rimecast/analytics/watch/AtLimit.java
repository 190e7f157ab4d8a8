package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.ControllerLimits;
import dev.rimecast.analytics.limits.DrainLimit;
import dev.rimecast.analytics.limits.PullDownLimit;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.telemetry.cycle.Cycle.Residual;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.Measure;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;

/** What is said when a limit is reached, whatever the machine usually does. */
final class AtLimit {
    private AtLimit() {}

    static Assessment pullDown(PullDownLimit seen, ControllerLimits limits) {
        double limit = limits.pullDownSeconds();
        String text =
                String.format(Locale.ROOT, "0 °C was not reached within %.0f s of the start of the freeze.", limit);
        return Assessment.of(Stage.AT_LIMIT, Priority.HIGH, text, PolicyNumber.PULL_DOWN_LIMIT_SECONDS)
                .measure(new Measure(
                        "pull-down", "s", seen.latestSeconds(), OptionalDouble.empty(), OptionalDouble.of(limit)));
    }

    private static final List<String> AT_ONCE =
            List.of("The plate did not come to 0 °C at once; the cycles before were as they should be.");

    /**
     * What keeps a plate warm that was cold in time until now, where nothing says whether the compressor runs: how often each is found
     * [common practice].
     */
    static final List<ProbableCause> CAUSES_OF_SUDDEN_PULL_DOWN = List.of(
            new ProbableCause(Cause.COMPRESSOR_NOT_STARTING, 0.4, AT_ONCE, List.of()),
            new ProbableCause(Cause.HOT_GAS_VALVE_LEAKING, 0.2, AT_ONCE, List.of()),
            new ProbableCause(Cause.EVAPORATOR_SENSOR_LOOSE, 0.1, AT_ONCE, List.of()),
            new ProbableCause(
                    Cause.LOW_CHARGE,
                    0.1,
                    AT_ONCE,
                    List.of("Charge that is lost mostly shows itself before, by pull-downs that become longer.")),
            new ProbableCause(Cause.CONTROLLER_FAILED, 0.05, AT_ONCE, List.of()));

    /** One overrun is a note; two in a row mean that the water does not get away. */
    static Assessment drain(DrainLimit seen, ControllerLimits limits) {
        double limit = limits.drainLevelSeconds();
        String text = String.format(
                Locale.ROOT,
                seen.isStanding()
                        ? "The drain level signal has lasted for %.0f s, far over its limit of %.1f s: the tank stays full."
                        : seen.isRepeated()
                                ? "The drain level signal lasted %.1f s, over its limit of %.1f s twice in a row or more."
                                : "The drain level signal lasted %.1f s once, over its limit of %.1f s.",
                seen.latestSeconds(),
                limit);
        return Assessment.of(
                        Stage.AT_LIMIT,
                        seen.isRepeated() ? Priority.HIGH : Priority.LOW,
                        text,
                        PolicyNumber.DRAIN_LEVEL_LIMIT_SECONDS)
                .measure(new Measure(
                        "drain-level", "s", seen.latestSeconds(), OptionalDouble.empty(), OptionalDouble.of(limit)));
    }

    private static final List<String> STANDING = List.of("The drain level signal does not end: the tank stays full.");

    /** What keeps a tank full where the signals before were as they should be: how often each is found [common practice]. */
    static final List<ProbableCause> CAUSES_OF_STANDING_WATER = List.of(
            new ProbableCause(Cause.DRAIN_PUMP_FAILED, 0.55, STANDING, List.of()),
            new ProbableCause(Cause.DRAIN_BLOCKED, 0.2, STANDING, List.of()),
            new ProbableCause(Cause.WASTE_HOSE_KINKED, 0.15, STANDING, List.of()),
            new ProbableCause(
                    Cause.LEVEL_PROBES_FOULED,
                    0.08,
                    STANDING,
                    List.of("Fouled probes mostly show themselves before, by signals that become longer.")));

    private static final List<String> COLD_HARVEST =
            List.of("The plate stayed below freezing through a whole harvest: no hot gas has come.");

    /** What keeps a plate cold in its harvest [common practice]. */
    static final List<ProbableCause> CAUSES_OF_COLD_HARVEST = List.of(
            new ProbableCause(Cause.HOT_GAS_VALVE_NOT_OPENING, 0.85, COLD_HARVEST, List.of()),
            new ProbableCause(Cause.CONTROLLER_FAILED, 0.08, COLD_HARVEST, List.of()));

    static Assessment coldHarvest(double warmestCelsius) {
        String text = String.format(
                Locale.ROOT,
                "The plate became no warmer than %.1f °C in the harvest: the ice has stayed on it.",
                warmestCelsius);
        return Assessment.of(Stage.AT_LIMIT, Priority.HIGH, text, ColdHarvest.DECIDES);
    }

    static Assessment warmInlet(double kelvin, double condenserCelsius, double limitCelsius) {
        String text = String.format(
                Locale.ROOT,
                "Air at the machine is %.1f K warmer against its neighbours in the room than it always was, and its condenser with it.",
                kelvin);
        List<String> seen =
                List.of("The air that it takes in has become warmer, that of the machines beside it has not.");
        return Assessment.of(Stage.EARLY, Priority.MEDIUM, text, WarmInlet.DECIDES)
                .causes(List.of(
                        new ProbableCause(Cause.HOT_AIR_RECIRCULATING, 0.8, seen, List.of()),
                        new ProbableCause(
                                Cause.AIRFLOW_RESTRICTED,
                                0.1,
                                seen,
                                List.of("A filter that is full does not warm the air in front of it."))))
                .measure(new Measure(
                        "condensing-temperature",
                        "Cel",
                        condenserCelsius,
                        OptionalDouble.of(condenserCelsius - kelvin),
                        OptionalDouble.of(limitCelsius)));
    }

    static Assessment leftIce(Residual pullDown) {
        String text = String.format(
                Locale.ROOT,
                "The plate came to 0 °C in %.0f s instead of %.0f s: ice has stayed on it.",
                pullDown.measured(),
                pullDown.expected());
        return Assessment.of(Stage.AT_LIMIT, Priority.MEDIUM, text, PolicyNumber.SHORT_PULL_DOWN_SHARE)
                .causes(List.of(new ProbableCause(
                        Cause.HOT_GAS_VALVE_NOT_OPENING,
                        0.4,
                        List.of("Ice that stays on the plate was not melted off."),
                        List.of())));
    }
}
