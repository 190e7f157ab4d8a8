package dev.rimecast.alerts.view;

import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import java.util.Optional;
import java.util.Set;

/**
 * Which alerts are wanted.
 *
 * @param openOnly leaves out those whose state is {@link AlertState#NORMAL}
 * @param site only those of this site, where present
 * @param machine only those of this machine, where present
 * @param conditions only those of one of these; empty for all
 * @param priorities only those of one of these, as the rules decided; empty for all
 */
public record AlertFilter(
        boolean openOnly,
        Optional<String> site,
        Optional<String> machine,
        Set<Condition> conditions,
        Set<Priority> priorities) {

    public static final AlertFilter EVERY =
            new AlertFilter(false, Optional.empty(), Optional.empty(), Set.of(), Set.of());

    public static final AlertFilter OPEN =
            new AlertFilter(true, Optional.empty(), Optional.empty(), Set.of(), Set.of());

    /** What is open of a machine. */
    public static AlertFilter openOf(String machine) {
        return new AlertFilter(true, Optional.empty(), Optional.of(machine), Set.of(), Set.of());
    }

    public boolean wants(AlertView alert) {
        return (!openOnly || alert.state() != AlertState.NORMAL)
                && (site.isEmpty() || site.get().equals(alert.finding().site()))
                && (machine.isEmpty() || machine.equals(alert.finding().machine()))
                && (conditions.isEmpty() || conditions.contains(alert.finding().condition()))
                && (priorities.isEmpty() || priorities.contains(alert.priority()));
    }

    public AlertFilter {
        conditions = Set.copyOf(conditions);
        priorities = Set.copyOf(priorities);
    }
}
