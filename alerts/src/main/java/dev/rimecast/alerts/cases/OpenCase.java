package dev.rimecast.alerts.cases;

import dev.rimecast.telemetry.finding.Cause;
import java.time.Instant;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/**
 * A case that is not over.
 *
 * @param cause what it is about, where that can be told
 * @param latestRaise when the youngest of its alerts was raised, or its call came
 * @param machines those that its alerts and calls are about
 */
public record OpenCase(UUID id, CaseKey key, Optional<Cause> cause, Instant latestRaise, Set<String> machines) {
    public OpenCase {
        machines = Set.copyOf(machines);
    }
}
