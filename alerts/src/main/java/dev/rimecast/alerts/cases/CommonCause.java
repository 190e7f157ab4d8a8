package dev.rimecast.alerts.cases;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import java.time.Duration;
import java.util.Locale;
import java.util.Set;

/**
 * Something that hits a place rather than a machine.
 *
 * @param within how far apart the raises of two alerts may be that belong to the same occurrence
 * @param one what it is called as long as one machine is concerned
 * @param several what it is called for more
 */
public record CommonCause(
        String name,
        Scope scope,
        Set<Cause> causes,
        Set<Condition> conditions,
        Duration within,
        String one,
        String several) {

    /** How far it reaches. */
    public enum Scope {
        SITE,
        ROOM,
        GATEWAY;

        String code() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    public CommonCause {
        causes = Set.copyOf(causes);
        conditions = Set.copyOf(conditions);
    }

    /** What a case of this is called. */
    public String words(int machines) {
        return machines > 1 ? several : one;
    }
}
