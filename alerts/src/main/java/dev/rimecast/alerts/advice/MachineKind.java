package dev.rimecast.alerts.advice;

import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import dev.rimecast.telemetry.machine.Machine.SprayUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/** How a machine is built, as far as it is known; what is not known is worded so, never guessed. */
public record MachineKind(Optional<SprayUnit> spray, Optional<DrainKind> drain, Optional<Cooling> cooling) {
    public static final MachineKind NOT_KNOWN = new MachineKind(Optional.empty(), Optional.empty(), Optional.empty());

    /** As the register says. */
    public static MachineKind of(Machine machine) {
        return new MachineKind(
                machine.build().sprayUnit(),
                machine.build().drain(),
                machine.build().cooling());
    }

    /** Of a machine whose drain pump was seen to run, where the register says nothing. */
    MachineKind withPumpSeen() {
        return drain.isPresent() ? this : new MachineKind(spray, Optional.of(DrainKind.PUMP), cooling);
    }

    /** Every kind that there can be, what is not known included. */
    static List<MachineKind> all() {
        List<MachineKind> all = new ArrayList<>();
        for (Optional<SprayUnit> spray : orNotKnown(SprayUnit.values())) {
            for (Optional<DrainKind> drain : orNotKnown(DrainKind.values())) {
                for (Optional<Cooling> cooling : orNotKnown(Cooling.values())) {
                    all.add(new MachineKind(spray, drain, cooling));
                }
            }
        }
        return List.copyOf(all);
    }

    private static <E> List<Optional<E>> orNotKnown(E[] values) {
        return Stream.concat(Stream.of(values).map(Optional::of), Stream.of(Optional.<E>empty()))
                .toList();
    }
}
