package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.notice.Delivery;
import dev.rimecast.alerts.notice.Matter;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.NoticeRules;
import dev.rimecast.alerts.notice.NoticeRules.Plan;
import dev.rimecast.alerts.notice.Situation;
import dev.rimecast.alerts.notice.outbox.Checkpoint.Step;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.SiteLocks;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/** Looks at every matter that is not over, each in one transaction, and writes what the rules say. */
final class Planner {
    private final Database database;
    private final NoticeBook book;
    private final NoticeRules rules;
    private final SituationQuery situations;
    private final Checkpoint checkpoint;

    Planner(Database database, NoticeBook book, BooksInForce books, Checkpoint checkpoint) {
        this.database = database;
        this.book = book;
        this.rules = new NoticeRules(book);
        this.situations = new SituationQuery(book, books);
        this.checkpoint = checkpoint;
    }

    void run(Instant now) {
        List<UUID> live = database.jdbi().withHandle(MatterStore::live);
        for (UUID id : live) {
            database.jdbi().useTransaction(handle -> look(handle, id, now));
        }
        database.jdbi().useTransaction(handle -> {
            DeliveryStore.failUnreachable(handle, book.receivers().keySet(), now);
            DeliveryStore.cancelOrphans(handle, now);
        });
    }

    /** The site's lock is held: the alerts stand still meanwhile, and two instances don't plan at once. */
    private void look(Handle handle, UUID id, Instant now) {
        handle.createQuery("select site from notice_matter where id = :id")
                .bind("id", id)
                .mapTo(String.class)
                .findOne()
                .ifPresent(site -> SiteLocks.take(handle, List.of(site)));
        Optional<Matter> found = MatterStore.locked(handle, id);
        if (found.isEmpty() || found.get().isOver()) {
            return;
        }
        Matter matter = found.get();
        Situation situation = situations.of(handle, matter, now);
        List<Delivery> before = DeliveryStore.locked(handle, id);
        Plan plan = rules.look(matter, situation, before, MatterStore.siteToldAt(handle, matter.site()), now);
        for (Delivery delivery : plan.create()) {
            DeliveryStore.insert(
                    handle, delivery, Optional.of(id), Optional.of(matter.site()), book, Optional.empty(), now);
        }
        DeliveryStore.cancel(
                handle, plan.cancel(), situation.isOver() ? "it was over before this left" : "no longer so", now);
        DeliveryStore.release(handle, plan.release(), now);
        if (!plan.matter().equals(matter)) {
            MatterStore.write(handle, plan.matter());
        }
        checkpoint.passed(Step.NOTICES_PLANNED);
    }
}
