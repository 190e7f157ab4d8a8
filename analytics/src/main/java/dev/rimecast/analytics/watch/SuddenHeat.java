package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import java.util.List;
import java.util.OptionalDouble;

/** Causes of a condensing temperature that is high all at once, in shares of how often each is found [common practice]. */
final class SuddenHeat {
    private static final List<String> SEEN =
            List.of("The condensing temperature came to its limit at once; the cycles before were as they should be.");

    private static final List<String> HOT_ROOM =
            List.of("The air around the machine is hotter than the machine is made for.");

    private static final List<ProbableCause> IN_ANY_ROOM = List.of(
            new ProbableCause(Cause.FAN_FAILED, 0.55, SEEN, List.of()),
            new ProbableCause(Cause.AIRFLOW_RESTRICTED, 0.25, SEEN, List.of()),
            new ProbableCause(Cause.HOT_AIR_RECIRCULATING, 0.1, SEEN, List.of()));

    private static final List<ProbableCause> IN_A_HOT_ROOM = List.of(
            new ProbableCause(Cause.ROOM_TOO_HOT, 0.75, HOT_ROOM, List.of()),
            new ProbableCause(Cause.FAN_FAILED, 0.1, SEEN, List.of()),
            new ProbableCause(Cause.AIRFLOW_RESTRICTED, 0.1, SEEN, List.of()));

    private static final List<String> IN_WATER =
            List.of("The condenser is cooled by water: too little of it comes, or it is too warm.");

    private static final List<ProbableCause> WITHOUT_A_FAN = List.of(
            new ProbableCause(Cause.WATER_SUPPLY_LOW, 0.7, IN_WATER, List.of()),
            new ProbableCause(Cause.AIR_IN_CIRCUIT_OR_OVERCHARGED, 0.1, SEEN, List.of()));

    private SuddenHeat() {}

    /** @param ambient what the machine's own sensor shows, °C */
    static List<ProbableCause> causes(OptionalDouble ambient, RuleContext context) {
        if (context.machine().condenserCooling() == Cooling.WATER) {
            return WITHOUT_A_FAN;
        }
        double most = context.machine().place().ambientMaxCelsius();
        boolean isHotNow = ambient.isPresent() && ambient.getAsDouble() >= most;
        boolean isFoundHot = context.open(Condition.AMBIENT_OUT_OF_RANGE)
                .filter(place -> place.causes().stream().anyMatch(c -> c.cause() == Cause.ROOM_TOO_HOT))
                .isPresent();
        return isHotNow || isFoundHot ? IN_A_HOT_ROOM : IN_ANY_ROOM;
    }
}
