package dev.rimecast.alerts.store;

import dev.rimecast.alerts.policy.PolicyChange;
import dev.rimecast.alerts.policy.PolicyTrial;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.jdbi.v3.core.Handle;

/** Changes of the policy and trials in the database. Whoever writes holds {@link RegisterStore#lock}. */
public final class PolicyLedger {
    private static final String CHANGES =
            "select number, version, yaml, source, at, who, why, restores, trial from policy_change ";
    private static final String TRIALS =
            "select id, yaml, base, started_at, started_by, why, since, ended_at, ended_by,"
                    + " ended_why, outcome, result from policy_trial ";

    private PolicyLedger() {}

    /** The one in force; absent before the first start has brought one in. */
    public static Optional<PolicyChange> newest(Handle handle) {
        return handle.createQuery(CHANGES + "order by number desc limit 1")
                .map((row, context) -> change(row))
                .findOne();
    }

    /** The newest of those that did not come from a person. */
    public static Optional<PolicyChange> newestBroughtIn(Handle handle) {
        return handle.createQuery(CHANGES + "where source <> 'person' order by number desc limit 1")
                .map((row, context) -> change(row))
                .findOne();
    }

    /** The newest first. */
    public static List<PolicyChange> all(Handle handle) {
        return handle.createQuery(CHANGES + "order by number desc")
                .map((row, context) -> change(row))
                .list();
    }

    public static Optional<PolicyChange> one(Handle handle, int number) {
        return handle.createQuery(CHANGES + "where number = :number")
                .bind("number", number)
                .map((row, context) -> change(row))
                .findOne();
    }

    public static void append(Handle handle, PolicyChange change) {
        handle.createUpdate("""
                        insert into policy_change (number, version, yaml, source, at, who, why, restores, trial)
                        values (:number, :version, :yaml, :source, :at, :who, :why, :restores, :trial)""")
                .bind("number", change.number())
                .bind("version", change.version())
                .bind("yaml", change.yaml())
                .bind("source", code(change.source()))
                .bind("at", change.at())
                .bind("who", change.who())
                .bind("why", change.why())
                .bind("restores", change.restores())
                .bind("trial", change.trial())
                .execute();
    }

    /** The newest first. */
    public static List<PolicyTrial> trials(Handle handle) {
        return handle.createQuery(TRIALS + "order by id desc")
                .map((row, context) -> trial(row))
                .list();
    }

    public static Optional<PolicyTrial> trial(Handle handle, int id) {
        return handle.createQuery(TRIALS + "where id = :id")
                .bind("id", id)
                .map((row, context) -> trial(row))
                .findOne();
    }

    /** Begins one, which has the next number. */
    public static PolicyTrial begin(
            Handle handle, String yaml, int base, Instant at, String who, String why, Instant since) {
        int id = 1
                + handle.createQuery("select coalesce(max(id), 0) from policy_trial")
                        .mapTo(Integer.class)
                        .one();
        handle.createUpdate("""
                        insert into policy_trial (id, yaml, base, started_at, started_by, why, since)
                        values (:id, :yaml, :base, :at, :who, :why, :since)""")
                .bind("id", id)
                .bind("yaml", yaml)
                .bind("base", base)
                .bind("at", at)
                .bind("who", who)
                .bind("why", why)
                .bind("since", since)
                .execute();
        return trial(handle, id).orElseThrow();
    }

    /** Ends one that runs; false where it has ended already. */
    public static boolean end(Handle handle, int id, PolicyTrial.Ended ended) {
        return handle.createUpdate("""
                        update policy_trial set ended_at = :at, ended_by = :who, ended_why = :why, outcome = :outcome,
                            result = :result
                        where id = :id and ended_at is null""")
                        .bind("at", ended.at())
                        .bind("who", ended.by())
                        .bind("why", ended.why())
                        .bind("outcome", ended.outcome().name().toLowerCase(Locale.ROOT))
                        .bind("result", ended.result())
                        .bind("id", id)
                        .execute()
                == 1;
    }

    private static String code(PolicyChange.Source source) {
        return source.name().toLowerCase(Locale.ROOT);
    }

    private static PolicyChange change(ResultSet row) throws SQLException {
        return new PolicyChange(
                row.getInt(1),
                row.getString(2),
                row.getString(3),
                PolicyChange.Source.valueOf(row.getString(4).toUpperCase(Locale.ROOT)),
                row.getTimestamp(5).toInstant(),
                row.getString(6),
                row.getString(7),
                whole(row, 8),
                whole(row, 9));
    }

    private static Optional<Integer> whole(ResultSet row, int column) throws SQLException {
        int value = row.getInt(column);
        return row.wasNull() ? Optional.empty() : Optional.of(value);
    }

    private static PolicyTrial trial(ResultSet row) throws SQLException {
        Optional<PolicyTrial.Ended> ended = row.getTimestamp(8) == null
                ? Optional.empty()
                : Optional.of(new PolicyTrial.Ended(
                        row.getTimestamp(8).toInstant(),
                        row.getString(9),
                        row.getString(10),
                        PolicyTrial.Outcome.valueOf(row.getString(11).toUpperCase(Locale.ROOT)),
                        Optional.ofNullable(row.getString(12)).orElse("")));
        return new PolicyTrial(
                row.getInt(1),
                row.getString(2),
                row.getInt(3),
                row.getTimestamp(4).toInstant(),
                row.getString(5),
                row.getString(6),
                row.getTimestamp(7).toInstant(),
                ended);
    }
}
