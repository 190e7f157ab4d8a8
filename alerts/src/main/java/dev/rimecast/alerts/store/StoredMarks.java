package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.Mark;
import dev.rimecast.alerts.view.Mark.Said;
import dev.rimecast.alerts.view.Mark.State;
import dev.rimecast.alerts.view.Mark.Verdict;
import dev.rimecast.alerts.view.Mark.Withdrawn;
import dev.rimecast.alerts.view.Marks;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.finding.Cause;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.Query;
import org.jspecify.annotations.Nullable;

/** Marks in the database: rows that nobody changes. What counts is found when they are read. */
public final class StoredMarks implements Marks {
    private static final String SELECT = """
            select * from (
                select m.*, w.at as withdrawn_at, w.who as withdrawn_by,
                    exists (select from mark l where l.machine = m.machine and l.who = m.who and l.began = m.began
                        and l.ended = m.ended and l.sequence > m.sequence) as superseded
                from mark m left join mark_withdrawn w on w.mark = m.id
                where (:everySite or m.site = any(:sites))) x
            """;

    private final Database database;
    private final InstantSource clock;

    public StoredMarks(Database database, InstantSource clock) {
        this.database = database;
        this.clock = clock;
    }

    private static Query query(Handle handle, String rest, SiteScope sites) {
        return handle.createQuery(SELECT + rest)
                .bind("everySite", sites.isEvery())
                .bindArray("sites", String.class, sites.sites());
    }

    @Override
    public List<Mark> list(SiteScope sites, Optional<String> machine, int limit) {
        return database.jdbi()
                .withHandle(handle -> query(
                                handle,
                                "where (:machine = '' or machine = :machine) order by sequence desc limit :limit",
                                sites)
                        .bind("machine", machine.orElse(""))
                        .bind("limit", limit)
                        .map((row, context) -> mark(row))
                        .list());
    }

    @Override
    public List<Mark> standing(SiteScope sites) {
        return database.jdbi()
                .withHandle(handle -> query(
                                handle, "where withdrawn_at is null and not superseded order by sequence", sites)
                        .map((row, context) -> mark(row))
                        .list());
    }

    @Override
    public Optional<Mark> add(SiteScope sites, Said said, Person who) {
        if (!sites.includes(said.site())) {
            return Optional.empty();
        }
        UUID id = UUID.randomUUID();
        return database.jdbi().inTransaction(handle -> {
            handle.createUpdate("""
                            insert into mark (id, machine, site, alert, began, ended, verdict, cause, note, at, who)
                            values (:id, :machine, :site, cast(:alert as uuid), :began, :ended, :verdict, :cause, :note, :at, :who)""")
                    .bind("id", id)
                    .bind("machine", said.machine())
                    .bind("site", said.site())
                    .bind("alert", said.alert().map(UUID::toString).orElse(null))
                    .bind("began", said.from())
                    .bind("ended", said.to())
                    .bind("verdict", said.verdict().code())
                    .bind("cause", said.cause().map(Cause::code).orElse(""))
                    .bind("note", said.note())
                    .bind("at", clock.instant().truncatedTo(ChronoUnit.MICROS))
                    .bind("who", who.name())
                    .execute();
            return one(handle, sites, id);
        });
    }

    private static Optional<Mark> one(Handle handle, SiteScope sites, UUID id) {
        return query(handle, "where id = :id", sites)
                .bind("id", id)
                .map((row, context) -> mark(row))
                .findOne();
    }

    @Override
    public boolean withdraw(SiteScope sites, UUID mark, Person who) {
        return database.jdbi()
                .inTransaction(handle -> one(handle, sites, mark)
                                .filter(found -> found.state() == State.STANDING)
                                .isPresent()
                        && handle.createUpdate("insert into mark_withdrawn (mark, at, who) values (:mark, :at, :who)"
                                                + " on conflict (mark) do nothing")
                                        .bind("mark", mark)
                                        .bind("at", clock.instant().truncatedTo(ChronoUnit.MICROS))
                                        .bind("who", who.name())
                                        .execute()
                                == 1);
    }

    private static Mark mark(ResultSet row) throws SQLException {
        @Nullable Timestamp withdrawn = row.getTimestamp("withdrawn_at");
        State state =
                withdrawn != null ? State.WITHDRAWN : row.getBoolean("superseded") ? State.SUPERSEDED : State.STANDING;
        Said said = new Said(
                row.getString("machine"),
                row.getString("site"),
                Optional.ofNullable(row.getObject("alert", UUID.class)),
                row.getTimestamp("began").toInstant(),
                row.getTimestamp("ended").toInstant(),
                Verdict.ofCode(row.getString("verdict")).orElseThrow(),
                Cause.ofCode(row.getString("cause")),
                row.getString("note"));
        return new Mark(
                row.getObject("id", UUID.class),
                said,
                row.getTimestamp("at").toInstant(),
                row.getString("who"),
                state,
                withdrawn == null
                        ? Optional.empty()
                        : Optional.of(new Withdrawn(withdrawn.toInstant(), row.getString("withdrawn_by"))));
    }
}
