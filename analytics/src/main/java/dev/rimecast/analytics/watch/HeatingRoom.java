package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.Measure;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;

/**
 * A room that heats up: the air that a machine takes in is warmer by {@value #BEYOND_KELVIN} K than on any day of the last two
 * weeks, and within {@value #BELOW_LIMIT_KELVIN} K of what the machine is made for. No weather does that to a room within a day;
 * an extraction that has failed does, or a door that is shut on the machine [common practice]. By a sensor only: what a
 * condenser tells of the room is not sure enough.
 */
final class HeatingRoom {
    private static final double BEYOND_KELVIN = 7.5;
    private static final double BELOW_LIMIT_KELVIN = 8;

    private static final List<Threshold> DECIDES = List.of(
            new Threshold.BuiltIn("heating_room_kelvin", BEYOND_KELVIN, "K"),
            new Threshold.BuiltIn("heating_room_below_limit_kelvin", BELOW_LIMIT_KELVIN, "K"));

    private HeatingRoom() {}

    /** @param place the air of the cycle at hand */
    static void judge(Conditions place, PlaceDays days, long millis, RuleContext context) {
        OptionalDouble before = days.warmestAirBefore();
        double air = place.ambientCelsius();
        double limit = context.machine().place().ambientMaxCelsius();
        boolean isHeating = place.hasSensor()
                && before.isPresent()
                && air >= before.getAsDouble() + BEYOND_KELVIN
                && air >= limit - BELOW_LIMIT_KELVIN;
        if (!isHeating || context.isOpen(Condition.AMBIENT_OUT_OF_RANGE)) {
            return;
        }
        String text = String.format(
                Locale.ROOT,
                "Air at the machine is %.1f °C, %.1f K warmer than on any day of the last two weeks; the machine is made for up to %.0f °C.",
                air,
                air - before.getAsDouble(),
                limit);
        context.report(
                Condition.AMBIENT_OUT_OF_RANGE,
                millis,
                Assessment.of(Stage.EARLY, Priority.LOW, text, DECIDES)
                        .measure(new Measure("ambient-temperature", "Cel", air, before, OptionalDouble.of(limit)))
                        .causes(List.of(new ProbableCause(Cause.ROOM_TOO_HOT, 0.8, List.of(text), List.of()))));
    }
}
