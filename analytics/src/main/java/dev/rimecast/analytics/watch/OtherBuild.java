package dev.rimecast.analytics.watch;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import java.util.EnumSet;
import java.util.Set;

/** What only machines of another build can have. */
final class OtherBuild {
    private OtherBuild() {}

    /** What warms the condenser: with what is seen against its own temperature, it has no part in it. */
    private static final Set<Cause> OF_CONDENSER = EnumSet.of(
            Cause.AIRFLOW_RESTRICTED,
            Cause.HOT_AIR_RECIRCULATING,
            Cause.FAN_WEAK,
            Cause.FAN_FAILED,
            Cause.AIR_IN_CIRCUIT_OR_OVERCHARGED);

    /**
     * A condenser in water has no fan and no filter; waste water that falls has no pump. Out of doors the condenser's own temperature is the place that
     * cycles are judged by: a freeze that is too long for that temperature is so by something else than the condenser.
     */
    static Set<Cause> causes(Machine machine) {
        Set<Cause> causes = EnumSet.noneOf(Cause.class);
        if (machine.condenserCooling() == Cooling.WATER) {
            causes.add(Cause.AIRFLOW_RESTRICTED);
            causes.add(Cause.HOT_AIR_RECIRCULATING);
            causes.add(Cause.FAN_WEAK);
            causes.add(Cause.FAN_FAILED);
        }
        if (machine.condenserCooling() == Cooling.REMOTE) {
            causes.addAll(OF_CONDENSER);
        }
        if (machine.drainKind() == DrainKind.GRAVITY) {
            causes.add(Cause.DRAIN_PUMP_FAILED);
        }
        return causes;
    }
}
