package dev.rimecast.analytics.limits;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.machine.Machine;
import java.util.List;
import java.util.Map;

/**
 * What may have stopped a machine of which nothing was seen before: neither its temperatures nor its cycles show it, and its last fill ended,
 * so it came at one stroke or is where no probe is. Shares are common practice, from no survey; much is left open.
 */
final class SuddenStop {
    private static final List<String> SEEN = List.of("It stopped in the midst of cycles that showed nothing.");
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

    static List<ProbableCause> causes(Machine machine) {
        return (machine.drainKind() == Machine.DrainKind.PUMP ? WITH_A_PUMP : WITHOUT)
                .stream()
                        .filter(each -> each.getKey() != Cause.FAN_FAILED
                                || machine.condenserCooling() != Machine.Cooling.WATER)
                        .map(each -> new ProbableCause(each.getKey(), each.getValue(), SEEN, AGAINST))
                        .toList();
    }
}
