package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.view.AlertView.AuditLine;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Visits.Filter;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;

/** Where visits are kept. */
public interface VisitStore {

    /** Does something while nobody else changes a visit: all of it or nothing. */
    <T> T change(Function<Session, T> work);

    /**
     * Looks at all visits as they stand at one moment, without keeping anybody from changing them meanwhile. It can't write.
     */
    <T> T look(Function<Session, T> work);

    /** By day, minute and site, then by id; of very many the first that are open, and the newest where others are asked for. */
    List<Visit> list(SiteScope sites, Filter filter);

    Optional<Visit> find(UUID id);

    /** Of each visit, oldest first. */
    Map<UUID, List<AuditLine>> history(Collection<UUID> visits);

    /** A visit to write, with the line of its history; without one nothing that matters has changed. */
    record Written(Visit visit, Optional<AuditLine> line) {}

    /** What can be done in one go. */
    interface Session {
        /** Proposed and accepted ones, by id. */
        List<Visit> open();

        Optional<Visit> find(UUID id);

        /** Those that were done at or after a time. */
        List<Visit> doneSince(Instant from);

        /** Writes all of them; what is open afterwards must have no need twice. */
        void write(List<Written> visits);

        /** Of these visits, those that a report of work names, with who wrote the first one. */
        Map<UUID, Reported> worked(Collection<UUID> visits);

        /**
         * Who reported a visit to one of the machines, or to the site, at or after a time. A report of work that names a
         * visit tells of that visit only: see {@link #worked}.
         */
        Optional<Reported> reported(String site, Collection<String> machines, Instant from);
    }

    /** Somebody said that they were there. */
    record Reported(String by, Instant at) {}
}
