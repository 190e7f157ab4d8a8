package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.expect.OfKind;
import dev.rimecast.analytics.making.Beside;
import dev.rimecast.analytics.watch.MachineWatch;
import dev.rimecast.telemetry.cycle.Feature;
import java.util.Collection;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;

/**
 * What the machines of a site know of each other, told once an hour, or once a day what their kind does: whether the others make ice, how warm the
 * room is, and whether they restarted together. Compared by each machine's own newest reading, so that it does not depend on when readings came.
 */
final class Neighbours {
    private static final long QUIET_MILLIS = 6 * 3_600_000L;
    private static final long OUT_MILLIS = 24 * 3_600_000L;
    private static final long TOGETHER_MILLIS = 30 * 60_000L;
    /** Whoever closes goes from machine to machine within this [common practice]. */
    private static final long OFF_TOGETHER_MILLIS = 2 * 3_600_000L;

    private static final long HOUR_MILLIS = 3_600_000L;
    /** A full bin that melts is filled up by a batch or two now and then, though nobody takes ice. */
    private static final int MORE_THAN_MELTS = 3;

    private static final long NONE = Long.MIN_VALUE;

    private Neighbours() {}

    static void tell(Collection<MachineMonitor> machines, ClosedDays closedDays) {
        for (MachineMonitor machine : machines) {
            if (machine.newestMillis() != NONE) {
                tellOfIce(machine, machines, closedDays);
                tellOfRoom(machine, machines);
            }
        }
        for (MachineMonitor machine : machines) {
            judgeRestarts(machine, machines);
        }
    }

    private static void tellOfIce(MachineMonitor machine, Collection<MachineMonitor> machines, ClosedDays closedDays) {
        long now = machine.newestMillis();
        int others = 0;
        int lately = 0;
        boolean isAnyInARun = false;
        boolean isAnyAtIt = false;
        boolean isOneOut = false;
        boolean areOffTogether = machine.offSinceMillis() != NONE;
        boolean isFirst = true;
        boolean isBefore = true;
        for (MachineMonitor other : machines) {
            isBefore &= other != machine;
            if (other != machine && other.newestMillis() != NONE && other.cycleMillis() != NONE) {
                others++;
                boolean isLately = now - other.cycleMillis() <= QUIET_MILLIS;
                lately += isLately ? 1 : 0;
                isAnyInARun |= isLately && other.cyclesSinceFull() >= MORE_THAN_MELTS;
                isAnyAtIt |= now - other.cycleMillis() <= HOUR_MILLIS;
                isOneOut |= now - other.cycleMillis() > OUT_MILLIS;
                areOffTogether &= isOffWith(machine, other);
                isFirst &= !isBefore;
            }
        }
        machine.neighbours(new Beside(
                others > 0,
                others > 0 && lately == 0,
                isAnyInARun,
                isAnyAtIt,
                others > 0 && lately == others,
                isOneOut,
                others > 0 && areOffTogether,
                isFirst,
                closedDays.isClosedAt(now)));
    }

    private static boolean isOffWith(MachineMonitor machine, MachineMonitor other) {
        return other.offSinceMillis() != NONE
                && Math.abs(other.offSinceMillis() - machine.offSinceMillis()) <= OFF_TOGETHER_MILLIS;
    }

    /** Of the air out of doors nobody in the room knows anything, nor does a sensor there of the room. */
    private static void tellOfRoom(MachineMonitor machine, Collection<MachineMonitor> machines) {
        if (MachineParts.isOutOfDoors(machine.machine())) {
            return;
        }
        double[] ofOthers = machines.stream()
                .filter(other -> other != machine
                        && !MachineParts.isOutOfDoors(other.machine())
                        && other.machine().room().equals(machine.machine().room())
                        && Math.abs(other.newestMillis() - machine.newestMillis()) <= TOGETHER_MILLIS)
                .map(MachineMonitor::ambient)
                .filter(OptionalDouble::isPresent)
                .mapToDouble(OptionalDouble::getAsDouble)
                .sorted()
                .toArray();
        if (ofOthers.length > 0) {
            // Of two the cooler one: a machine that takes in its own warm air says nothing of the room.
            machine.ambientOfNeighbour(ofOthers[(ofOthers.length - 1) / 2]);
        }
    }

    /** Once a day: what others of its kind on the site have shown so far. */
    static void tellOfKind(Collection<MachineMonitor> machines, SiteMonitor.Output out) {
        Map<MachineMonitor, Map<Feature, OfKind>> shown = new IdentityHashMap<>();
        machines.forEach(machine -> shown.put(machine, machine.ofKind()));
        for (MachineMonitor machine : machines) {
            List<Map<Feature, OfKind>> others = machines.stream()
                    .filter(other -> other != machine && MachineWatch.areOfAKind(machine.machine(), other.machine()))
                    .map(shown::get)
                    .toList();
            machine.kind(others, out);
        }
    }

    /** A restart with which at least half of the others restarted, too, is a power cut. */
    private static void judgeRestarts(MachineMonitor machine, Collection<MachineMonitor> machines) {
        long at = machine.restarts().unjudged(machine.newestMillis());
        while (at != NONE) {
            int others = 0;
            int together = 0;
            for (MachineMonitor other : machines) {
                if (other != machine && other.newestMillis() != NONE) {
                    others++;
                    together += other.restarts().restartedNear(at) ? 1 : 0;
                }
            }
            machine.restarts().judge(together > 0 && 2 * together >= others);
            at = machine.restarts().unjudged(machine.newestMillis());
        }
    }
}
