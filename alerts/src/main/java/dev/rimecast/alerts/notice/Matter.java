package dev.rimecast.alerts.notice;

import dev.rimecast.telemetry.finding.NameBasedId;
import dev.rimecast.telemetry.finding.Priority;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * A case that people should be told of, and how far they have been. Its id is a function of the event that announced it.
 *
 * @param caseId the case that was announced; its matter also speaks for cases of the same site and cause
 * @param telling how often people were told that something needs action: at first, and each time it got worse
 * @param told the last time of these
 * @param isOver closed for good; what happens to the case later is another matter
 */
public record Matter(
        UUID id, UUID caseId, String site, Instant since, int telling, Optional<Told> told, boolean isOver) {

    /** When, and how urgent it was then. */
    public record Told(Instant at, Priority priority, boolean iceAtRisk) {}

    /** The matter that an event announces. */
    public static UUID idOf(UUID event) {
        return NameBasedId.of("notice-matter|" + event);
    }

    Matter toldNow(Instant at, Priority priority, boolean iceAtRisk) {
        return new Matter(id, caseId, site, since, telling + 1, Optional.of(new Told(at, priority, iceAtRisk)), false);
    }

    /** As if people had not been told: nothing of it had left. */
    Matter untold() {
        return new Matter(id, caseId, site, since, telling, Optional.empty(), isOver);
    }

    Matter over() {
        return new Matter(id, caseId, site, since, telling, told, true);
    }
}
