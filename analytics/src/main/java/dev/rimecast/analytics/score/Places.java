package dev.rimecast.analytics.score;

import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.machine.Machine;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;

/** Which machines an alert is about: one about a gateway or a site names it in its summary and is about all behind it. */
public final class Places {
    private final Map<String, Machine> machines = new HashMap<>();

    public Places(List<Machine> machines) {
        machines.forEach(machine -> this.machines.put(machine.id(), machine));
    }

    public boolean isAbout(AlertRow alert, String machine) {
        if (alert.machine().isPresent()) {
            return alert.machine().get().equals(machine);
        }
        Machine row = machines.get(machine);
        return row != null && (names(alert.summary(), row.gateway()) || names(alert.summary(), row.site()));
    }

    Optional<String> siteOf(String machine) {
        return Optional.ofNullable(machines.get(machine)).map(Machine::site);
    }

    /** Whether both are in the register, and on one site. */
    public boolean areOnOneSite(String a, String b) {
        Machine first = machines.get(a);
        Machine second = machines.get(b);
        return first != null && second != null && first.site().equals(second.site());
    }

    /** As a whole word: {@code gw-1} is not named by {@code gw-12}. A full stop that ends the sentence is none of it. */
    private static boolean names(String summary, String id) {
        return Pattern.compile("(?<![a-z0-9._-])" + Pattern.quote(id) + "(?![a-z0-9_-]|\\.[a-z0-9])")
                .matcher(summary)
                .find();
    }
}
