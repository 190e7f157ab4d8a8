package dev.rimecast.alerts.store;

import dev.rimecast.telemetry.finding.NameBasedId;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/**
 * Opens and closes cases by their alerts, and writes what happened to them: audit and event, in the transaction of the
 * change.
 *
 * <p>Of all events of a case one at most is marked to be told, the first with an alert that counts and is not old; and
 * none, where another case of the same site and cause was told before and is open: its notice speaks for both. The end of
 * a case is told if the case was.
 */
final class CaseChanges {
    private CaseChanges() {}

    /** One of its alerts has changed. */
    static void refresh(Handle handle, UUID id, Instant at, String who) {
        State state = state(handle, id);
        if (state.closed() && state.openAlerts() > 0) {
            set(handle, id, "closed_at = null, merged_into = null");
            note(handle, id, at, who, "reopened", "");
        } else if (!state.closed() && state.alerts() > 0 && state.openAlerts() == 0) {
            close(handle, id, at, who, "all of its alerts are over");
        } else if (!state.announced() && state.counts() && !state.spokenFor()) {
            note(handle, id, at, who, "counts", "");
        }
    }

    static void close(Handle handle, UUID id, Instant at, String who, String why) {
        handle.createUpdate("update alert_case set closed_at = greatest(opened_at, :at) where id = :id")
                .bind("id", id)
                .bind("at", at)
                .execute();
        note(handle, id, at, who, "closed", why);
    }

    /** An alert goes from one case to another: who was told of the one needs no second notice of the other. */
    static void inheritNotice(Handle handle, UUID left, UUID to) {
        if (state(handle, left).announced() && !state(handle, to).announced()) {
            handle.createUpdate("update alert_case set announced = true, spoken_for_by = null, announced_with = :left"
                            + " where id = :id")
                    .bind("id", to)
                    .bind("left", left)
                    .execute();
        }
    }

    /** An alert has left for another case; what is empty now ends in that one, and its calls go along. */
    static void left(Handle handle, UUID left, UUID to, Instant at, String who) {
        if (state(handle, left).alerts() > 0) {
            refresh(handle, left, at, who);
            return;
        }
        handle.createUpdate("update site_event set case_id = :to where case_id = :left")
                .bind("left", left)
                .bind("to", to)
                .execute();
        handle.createUpdate("""
                update alert_case set closed_at = greatest(opened_at, :at), merged_into = :to where id = :left""")
                .bind("left", left)
                .bind("to", to)
                .bind("at", at)
                .execute();
        note(handle, left, at, who, "merged", "into " + to);
    }

    /** Writes what happened: the version counts up, and people are told where the case's rules say so. */
    static void note(Handle handle, UUID id, Instant at, String who, String what, String why) {
        State state = state(handle, id);
        boolean first = !state.announced() && state.counts();
        Optional<UUID> speaker = first ? speaker(handle, id) : Optional.empty();
        boolean tell = first ? speaker.isEmpty() : state.announced() && what.equals("closed");
        if (first) {
            handle.createUpdate("""
                    update alert_case set announced = :tell, spoken_for_by = cast(:speaker as uuid) where id = :id""")
                    .bind("id", id)
                    .bind("tell", tell)
                    .bind("speaker", speaker)
                    .execute();
        }
        set(handle, id, "version = version + 1");
        handle.createUpdate("insert into case_audit (case_id, at, who, what, why) values (:id, :at, :who, :what, :why)")
                .bind("id", id)
                .bind("at", at)
                .bind("who", who)
                .bind("what", what)
                .bind("why", why)
                .execute();
        handle.createUpdate("""
                insert into alert_event (id, kind, site, case_id, version, at, who, announced)
                values (:event, :kind, :site, :id, :version, :at, :who, :tell) on conflict do nothing""")
                .bind("event", NameBasedId.of("case-event|" + id + '|' + (state.version() + 1)))
                .bind("kind", "case." + what.replace(' ', '-'))
                .bind("site", state.site())
                .bind("id", id)
                .bind("version", state.version() + 1)
                .bind("at", at)
                .bind("who", who)
                .bind("tell", tell)
                .execute();
    }

    private static void set(Handle handle, UUID id, String what) {
        handle.createUpdate("update alert_case set " + what + " where id = :id")
                .bind("id", id)
                .execute();
    }

    /** The open case of the same site and cause that people were told of. */
    private static Optional<UUID> speaker(Handle handle, UUID id) {
        return handle.createQuery("""
                select other.id from alert_case own join alert_case other on other.site = own.site
                    and other.cause = own.cause and other.id <> own.id
                where own.id = :id and other.announced and other.closed_at is null
                order by other.opened_at, other.id limit 1""").bind("id", id).mapTo(UUID.class).findOne();
    }

    /**
     * How a case stands.
     *
     * @param counts whether an alert that is new, or over and not yet seen, was raised not long before it came; or a call
     */
    private record State(
            String site,
            long version,
            boolean closed,
            boolean announced,
            boolean spokenFor,
            int alerts,
            int openAlerts,
            boolean counts) {}

    private static State state(Handle handle, UUID id) {
        return handle.createQuery("""
                select c.site, c.version, c.closed_at, c.announced, c.spoken_for_by, count(a.id),
                    count(a.id) filter (where a.state <> 'normal'),
                    coalesce(bool_or(a.announced and a.state in ('unacknowledged', 'acknowledged')), false)
                from alert_case c left join alert a on a.case_id = c.id where c.id = :id
                group by c.id""")
                .bind("id", id)
                .map((row, context) -> {
                    @Nullable Object speaker = row.getObject(5);
                    return new State(
                            row.getString(1),
                            row.getLong(2),
                            row.getTimestamp(3) != null,
                            row.getBoolean(4),
                            speaker != null,
                            row.getInt(6),
                            row.getInt(7),
                            row.getBoolean(8));
                })
                .one();
    }
}
