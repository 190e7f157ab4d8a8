package dev.rimecast.alerts.store;

import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/** Answers of people: a row, a line in the audit, and a record on its way into the site's log. */
public final class AlertAnswers {
    private AlertAnswers() {}

    /**
     * @param said the answer as the log has it
     * @param alert whose audit tells of it
     * @param words the same in words
     */
    public static void give(Handle handle, String site, Happened said, Optional<UUID> alert, String words) {
        SiteLocks.take(handle, List.of(site));
        SiteEventStore.add(handle, site, said);
        alert.ifPresent(id -> AuditTrail.append(handle, id, said.at(), said.by(), "answered", words));
        Outbox.toSite(handle, site, said);
    }

    /** A call that came with an answer: into its case and the site's log. */
    public static void call(Handle handle, CaseStore cases, String site, Happened call) {
        cases.call(handle, site, SiteEventStore.add(handle, site, call), call);
        Outbox.toSite(handle, site, call);
    }
}
