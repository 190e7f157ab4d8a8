package dev.rimecast.alerts.store;

import dev.rimecast.alerts.life.Circumstance;
import dev.rimecast.alerts.life.LifeBook;
import dev.rimecast.alerts.life.LifeBook.Suppression;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.store.CircumstanceQuery.Subject;
import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.alerts.view.Hold;
import dev.rimecast.telemetry.finding.Condition;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/**
 * One look at everything that may begin or end to count: shelves whose time is up, and circumstances. What is as it
 * should be is only read; each alert that changes does so in a transaction of its own, under its site's lock.
 */
public final class HoldPass {
    private final Database database;
    private final BooksInForce books;
    private final HoldKeeper keeper;

    public HoldPass(Database database, BooksInForce books) {
        this.database = database;
        this.books = books;
        this.keeper = new HoldKeeper(books);
    }

    /** @return what the pages should look at again */
    public Collection<Change> run(Instant now) {
        List<Change> changes = new ArrayList<>();
        List<Hold> due = database.jdbi().withHandle(handle -> HoldStore.due(handle, now));
        for (Hold shelf : due) {
            database.jdbi().useTransaction(handle -> {
                SiteLocks.take(handle, List.of(shelf.site()));
                if (HoldStore.open(handle, shelf.id()).isPresent()) {
                    keeper.expire(handle, shelf, now);
                }
            });
            changes.add(new Change("alert", shelf.site(), shelf.subject().contains(":") ? "" : shelf.subject(), ""));
        }
        List<Candidate> outOfLine = database.jdbi().withHandle(handle -> outOfLine(handle, now));
        for (Candidate candidate : outOfLine) {
            boolean changed = database.jdbi().inTransaction(handle -> {
                SiteLocks.take(handle, List.of(candidate.site()));
                return keeper.suppress(handle, candidate.alert(), now);
            });
            if (changed) {
                changes.add(new Change(
                        "alert",
                        candidate.site(),
                        candidate.machine(),
                        candidate.alert().toString()));
            }
        }
        return changes;
    }

    /** @param rule the suppression that is written down, empty for none */
    private record Candidate(
            UUID alert, String machine, String subject, String site, Condition condition, String rule) {}

    /** Open alerts whose suppression is not what their circumstances ask for. */
    private List<Candidate> outOfLine(Handle handle, Instant now) {
        LifeBook book = books.life();
        List<Candidate> open = handle.createQuery("""
                select a.id, a.machine, a.subject, a.site, a.condition, h.who from alert a
                left join alert_hold h on h.subject = a.subject and h.condition = a.condition
                    and h.kind = 'suppressed' and h.ended_at is null
                where a.state <> 'normal'
                    and (h.id is not null or (a.cleared_at is null and a.condition = any(:suppressible)))""")
                .bindArray(
                        "suppressible",
                        String.class,
                        book.suppressible().stream().map(Condition::code).toList())
                .map((row, context) -> new Candidate(
                        row.getObject(1, UUID.class),
                        Optional.ofNullable(row.getString(2)).orElse(""),
                        row.getString(3),
                        row.getString(4),
                        Condition.ofCode(row.getString(5)).orElseThrow(),
                        Optional.ofNullable(row.getString(6)).orElse("")))
                .list();
        Map<String, Set<Circumstance>> known = CircumstanceQuery.of(
                handle,
                open.stream()
                        .map(candidate -> new Subject(candidate.subject(), candidate.site()))
                        .distinct()
                        .toList(),
                now);
        return open.stream()
                .filter(candidate -> !book.suppression(
                                candidate.condition(), known.getOrDefault(candidate.subject(), Set.of()))
                        .map(Suppression::circumstance)
                        .map(Circumstance::code)
                        .orElse("")
                        .equals(candidate.rule()))
                .toList();
    }
}
