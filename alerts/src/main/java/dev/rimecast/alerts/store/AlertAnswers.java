package dev.rimecast.alerts.store;

import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/** Answers of people: a row, a line in the audit, and a record on its way into the site's log. */
public final class AlertAnswers {
    /** Who says it where nobody is named. */
    private static final String SITE = "site";

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

    /**
     * An answer that came as a report of the machine: in the audit of each of its alerts that is not over, since it is weighed
     * in all of them.
     *
     * @param reporter who put it in, where that is known: a name that is typed with it says only who was heard
     * @param words the answer in words
     */
    public static void reported(Handle handle, Happened said, Optional<String> reporter, String words) {
        String heard = said.by().isEmpty() ? SITE : said.by();
        String who = reporter.orElse(heard);
        String why = heard.equals(who) ? words : words + " (said by " + heard + ')';
        handle.createQuery("select id from alert where machine = :machine and state <> 'normal' and cleared_at is null"
                        + " order by id")
                .bind("machine", said.machine())
                .mapTo(UUID.class)
                .list()
                .forEach(alert -> AuditTrail.append(handle, alert, said.at(), who, "answered", why));
    }

    /** A call that came with an answer: into its case and the site's log. */
    public static void call(Handle handle, CaseStore cases, String site, Happened call) {
        cases.call(handle, site, SiteEventStore.add(handle, site, call), call);
        Outbox.toSite(handle, site, call);
    }
}
