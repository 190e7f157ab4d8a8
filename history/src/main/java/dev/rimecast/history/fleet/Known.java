package dev.rimecast.history.fleet;

import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.fleet.Scope.Reason;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;

/** The machines that the history knows, with how many complete cycles each has in the times that are looked at. */
final class Known {
    private static final Counts NONE = new Counts(0, 0, 0, 0, 0);

    private final Map<String, Machine> register;
    private final Map<String, Counts> counts = new TreeMap<>();
    private final TreeSet<String> machines = new TreeSet<>();

    /** Complete cycles: of all time, of the fit, of the span, of its last week and of what is before that. */
    record Counts(long ever, long fit, long span, long lastWeek, long before) {}

    private Known(Map<String, Machine> register) {
        this.register = register;
        machines.addAll(register.keySet());
    }

    static Known read(Duck duck, Map<String, Machine> register, Instant until, Duration span, Duration fit) {
        Known known = new Known(register);
        String since = FleetLook.time(until.minus(span));
        String week = FleetLook.time(until.minus(SensorLook.LAST));
        duck.ask(
                "select machine, count(*), " + filtered("freeze_start >= " + FleetLook.time(until.minus(fit))) + ", "
                        + filtered("freeze_start >= " + since) + ", "
                        + filtered("freeze_start >= " + since + " and freeze_start >= " + week) + ", "
                        + filtered("freeze_start >= " + since + " and freeze_start < " + week)
                        + " from cycles where complete group by machine",
                row -> known.counts.put(
                        row.getString(1),
                        new Counts(row.getLong(2), row.getLong(3), row.getLong(4), row.getLong(5), row.getLong(6))));
        known.machines.addAll(known.counts.keySet());
        return known;
    }

    private static String filtered(String where) {
        return "count(*) filter (where " + where + ')';
    }

    /** By name, in order. */
    Set<String> machines() {
        return machines;
    }

    Counts of(String machine) {
        return counts.getOrDefault(machine, NONE);
    }

    boolean isRegistered(String machine) {
        return register.containsKey(machine);
    }

    /** Why it can't be looked at at all. */
    Optional<Reason> idle(String machine, long recent) {
        if (of(machine).ever() == 0) {
            return Optional.of(Reason.NO_CYCLE);
        }
        return recent == 0 ? Optional.of(Reason.NO_RECENT_CYCLE) : Optional.empty();
    }
}
