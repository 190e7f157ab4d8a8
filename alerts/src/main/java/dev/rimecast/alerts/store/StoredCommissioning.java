package dev.rimecast.alerts.store;

import dev.rimecast.alerts.acceptance.AcceptanceView;
import dev.rimecast.alerts.advice.Checklist;
import dev.rimecast.alerts.advice.CommissioningBook;
import dev.rimecast.alerts.advice.MachineKind;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.Commissioned;
import dev.rimecast.alerts.work.Commissioned.Answer;
import dev.rimecast.alerts.work.Commissioned.Result;
import dev.rimecast.alerts.work.Commissioned.Stored;
import dev.rimecast.alerts.work.Commissioning;
import dev.rimecast.telemetry.machine.Machine;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.Query;

/** Records of commissioning in the database, which refuses to change one. */
public final class StoredCommissioning implements Commissioning {
    private static final String SELECT =
            "select id, site, machine, happened, note, who, job, entered_by, entered_at" + " from commissioning where ";

    private final Database database;
    private final CommissioningBook book;
    private final InstantSource clock;

    public StoredCommissioning(Database database, CommissioningBook book, InstantSource clock) {
        this.database = database;
        this.book = book;
        this.clock = clock;
    }

    @Override
    public Outcome commission(SiteScope sites, String machine, Commissioned record, Person who) {
        return database.jdbi().inTransaction(handle -> enter(handle, sites, machine, record, who));
    }

    private Outcome enter(Handle handle, SiteScope sites, String id, Commissioned record, Person who) {
        Optional<Machine> machine = RegisterStore.machine(handle, id).filter(known -> sites.includes(known.site()));
        if (machine.isEmpty()) {
            return new Outcome.NotFound("No machine " + id + " in the register.");
        }
        SiteLocks.take(handle, List.of(machine.get().site()));
        Optional<Stored> known = read(
                        handle, handle.createQuery(SELECT + "id = :id").bind("id", record.id()))
                .stream()
                .findFirst();
        if (known.isPresent()) {
            return known.filter(each -> each.machine().equals(id) && sites.includes(each.site()))
                    .<Outcome>map(Outcome.Known::new)
                    .orElseGet(() -> new Outcome.Refused("id", "is that of a record of another machine"));
        }
        Instant now = clock.instant().truncatedTo(ChronoUnit.MILLIS);
        Checklist list = book.of(MachineKind.of(machine.get()));
        return record.wrong(list, now)
                .<Outcome>map(wrong -> new Outcome.Refused(wrong.member(), wrong.reason()))
                .orElseGet(() -> new Outcome.Added(add(
                        handle, new Stored(record.wordedBy(list), machine.get().site(), id, who.name(), now))));
    }

    private static Stored add(Handle handle, Stored stored) {
        Commissioned record = stored.record();
        handle.createUpdate("""
                insert into commissioning (id, site, machine, happened, note, who, job, entered_by, entered_at)
                values (:id, :site, :machine, :happened, :note, :who, :job, :enteredBy, :enteredAt)""")
                .bind("id", record.id())
                .bind("site", stored.site())
                .bind("machine", stored.machine())
                .bind("happened", record.at())
                .bind("note", record.note())
                .bind("who", record.by())
                .bind("job", record.job())
                .bind("enteredBy", stored.enteredBy())
                .bind("enteredAt", stored.enteredAt())
                .execute();
        for (int i = 0; i < record.answers().size(); i++) {
            Answer answer = record.answers().get(i);
            handle.createUpdate("insert into commissioning_answer (record, position, item, words, result, note)"
                            + " values (:record, :position, :item, :words, :result, :note)")
                    .bind("record", record.id())
                    .bind("position", i)
                    .bind("item", answer.item())
                    .bind("words", answer.check())
                    .bind("result", answer.result().code())
                    .bind("note", answer.note())
                    .execute();
        }
        return stored;
    }

    @Override
    public List<Stored> commissionings(SiteScope sites, String machine) {
        return database.jdbi()
                .withHandle(handle -> read(
                        handle,
                        handle.createQuery(SELECT + "machine = :machine and (:everySite or site = any(:sites))"
                                        + " order by happened desc, id")
                                .bind("machine", machine)
                                .bind("everySite", sites.isEvery())
                                .bindArray("sites", String.class, sites.sites())));
    }

    @Override
    public List<AcceptanceView> acceptances(SiteScope sites, String machine) {
        return database.jdbi().withHandle(handle -> AcceptanceStore.ofMachine(handle, sites, machine));
    }

    private static List<Stored> read(Handle handle, Query query) {
        return query.map((row, context) -> stored(handle, row)).list();
    }

    private static Stored stored(Handle handle, ResultSet row) throws SQLException {
        UUID id = row.getObject(1, UUID.class);
        List<Answer> answers = handle.createQuery(
                        "select item, words, result, note from commissioning_answer where record = :id order by position")
                .bind("id", id)
                .map((answer, context) -> new Answer(
                        answer.getString(1),
                        answer.getString(2),
                        Result.ofCode(answer.getString(3)).orElseThrow(),
                        answer.getString(4)))
                .list();
        return new Stored(
                new Commissioned(
                        id,
                        row.getTimestamp(4).toInstant(),
                        answers,
                        row.getString(5),
                        row.getString(6),
                        row.getString(7)),
                row.getString(2),
                row.getString(3),
                row.getString(8),
                row.getTimestamp(9).toInstant());
    }
}
