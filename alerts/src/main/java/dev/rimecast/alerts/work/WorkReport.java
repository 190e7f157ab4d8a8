package dev.rimecast.alerts.work;

import dev.rimecast.telemetry.finding.Cause.Origin;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * What somebody writes down after work on a machine. A wrong one is put right by another: none is changed.
 *
 * @param id made by whoever writes it, so that sending it twice stores it once
 * @param at when the work was finished
 * @param origin of what was found; absent where nothing was found or it is not known
 * @param done in the order of doing
 * @param charge absent where it is not settled yet
 * @param by who did the work
 * @param certificate number of the person's certificate for refrigerants; may be empty
 * @param visit the planned visit that it belongs to
 * @param caseId the case that it belongs to
 */
public record WorkReport(
        UUID id,
        Instant at,
        Found found,
        Optional<Origin> origin,
        List<Done> done,
        Optional<Charge> charge,
        String job,
        String note,
        String by,
        String certificate,
        Optional<UUID> visit,
        Optional<UUID> caseId) {
    public WorkReport {
        done = List.copyOf(done);
    }

    /** Of one case, as the store puts it there. */
    public WorkReport inCase(Optional<UUID> id) {
        return new WorkReport(this.id, at, found, origin, done, charge, job, note, by, certificate, visit, id);
    }
}
