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

    /** A condenser in water has no fan and no filter; waste water that falls has no pump. */
    static Set<Cause> causes(Machine machine) {
        Set<Cause> causes = EnumSet.noneOf(Cause.class);
        if (machine.condenserCooling() == Cooling.WATER) {
            causes.add(Cause.AIRFLOW_RESTRICTED);
            causes.add(Cause.HOT_AIR_RECIRCULATING);
            causes.add(Cause.FAN_WEAK);
            causes.add(Cause.FAN_FAILED);
        }
        if (machine.drainKind() == DrainKind.GRAVITY) {
            causes.add(Cause.DRAIN_PUMP_FAILED);
        }
        return causes;
    }
}
