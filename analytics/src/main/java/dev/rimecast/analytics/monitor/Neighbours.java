package dev.rimecast.analytics.monitor;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * What the machines of a site know of each other: whether the others make ice. Compared by each machine's own newest
 * reading, so that it does not depend on when readings came.
 */
final class Neighbours {
    /** Told once an hour. */
    static final int EVERY_TICKS = 60;

    private static final long QUIET_MILLIS = 6 * 3_600_000L;
    private static final long OUT_MILLIS = 24 * 3_600_000L;
    private static final long NONE = Long.MIN_VALUE;

    private Neighbours() {}

    /** Tells each machine of the others; returns those that were told. */
    static List<String> tell(Map<String, MachineMonitor> machines) {
        List<String> told = new ArrayList<>();
        machines.forEach((id, machine) -> {
            long now = machine.newestMillis();
            if (now == NONE) {
                return;
            }
            boolean hasOthers = false;
            boolean isQuiet = true;
            boolean isOneOut = false;
            for (MachineMonitor other : machines.values()) {
                if (other != machine && other.newestMillis() != NONE && other.cycleMillis() != NONE) {
                    hasOthers = true;
                    isQuiet &= now - other.cycleMillis() > QUIET_MILLIS;
                    isOneOut |= now - other.cycleMillis() > OUT_MILLIS;
                }
            }
            machine.neighbours(hasOthers && isQuiet, isOneOut);
            told.add(id);
        });
        return told;
    }
}
