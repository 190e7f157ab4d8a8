package dev.rimecast.analytics.limits;

import dev.rimecast.analytics.finding.OpenFinding;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Machine;
import java.util.List;
import java.util.Map;

/**
 * What may have stopped a machine of which nothing was seen before: neither its temperatures nor its cycles show it, and its last fill ended,
 * so it came at one stroke or is where no probe is. Shares are common practice, from no survey; much is left open.
 */
public final class SuddenStop {
    /** What makes a controller stop its machine, the surest first [common practice]. */
    public static final List<Condition> STOPPING = List.of(
            Condition.DRAIN_PUMP_OVERRUN,
            Condition.INCOMPLETE_HARVEST,
            Condition.HIGH_CONDENSING_TEMPERATURE,
            Condition.SENSOR_IMPLAUSIBLE);

    /** Water that runs away stops a machine, in its fill or in the dry freeze after it; a fill that has ended since does not. */
    private static final List<Condition> OF_WATER = List.of(Condition.WATER_USE_HIGH);

    private static final List<String> SEEN = List.of("Nothing was seen before it stopped.");
    private static final List<String> AGAINST = List.of("Its channels don't say why it stopped.");

    private static final List<Map.Entry<Cause, Double>> WITH_A_PUMP = List.of(
            Map.entry(Cause.DRAIN_PUMP_FAILED, 0.3),
            Map.entry(Cause.DRAIN_BLOCKED, 0.15),
            Map.entry(Cause.WASTE_HOSE_KINKED, 0.1),
            Map.entry(Cause.FAN_FAILED, 0.1),
            Map.entry(Cause.CONTROLLER_FAILED, 0.05));

    private static final List<Map.Entry<Cause, Double>> WITHOUT = List.of(
            Map.entry(Cause.FAN_FAILED, 0.15),
            Map.entry(Cause.DRAIN_BLOCKED, 0.1),
            Map.entry(Cause.HOT_GAS_VALVE_NOT_OPENING, 0.1),
            Map.entry(Cause.CONTROLLER_FAILED, 0.1));

    private SuddenStop() {}

    /** Of what is open and makes a controller stop its machine, else of what comes at one stroke. */
    static List<ProbableCause> causes(RuleContext context) {
        for (Condition condition : STOPPING) {
            List<ProbableCause> open =
                    context.open(condition).map(OpenFinding::causes).orElse(List.of());
            if (!open.isEmpty()) {
                return open;
            }
        }
        for (Condition condition : OF_WATER) {
            List<ProbableCause> open = context.open(condition)
                    .filter(found -> found.stage() == Stage.AT_LIMIT)
                    .map(OpenFinding::causes)
                    .orElse(List.of());
            if (!open.isEmpty()) {
                return open;
            }
        }
        Machine machine = context.machine();
        return (machine.drainKind() == Machine.DrainKind.PUMP ? WITH_A_PUMP : WITHOUT)
                .stream()
                        .filter(each -> each.getKey() != Cause.FAN_FAILED
                                || machine.condenserCooling() != Machine.Cooling.WATER)
                        .map(each -> new ProbableCause(each.getKey(), each.getValue(), SEEN, AGAINST))
                        .toList();
    }
}
