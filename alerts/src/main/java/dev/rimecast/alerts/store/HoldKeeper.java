package dev.rimecast.alerts.store;

import dev.rimecast.alerts.life.AlertLife;
import dev.rimecast.alerts.life.Circumstance;
import dev.rimecast.alerts.life.Standing;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.store.CircumstanceQuery.Subject;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.Hold;
import dev.rimecast.telemetry.finding.Condition;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/** Brings open alerts in line with what holds them. */
final class HoldKeeper {
    private final BooksInForce books;
    private final Suppressor suppressor;

    HoldKeeper(BooksInForce books) {
        this.books = books;
        this.suppressor = new Suppressor(books);
    }

    /** Settles what a hold concerns, now that it has begun. The caller holds the site's lock. */
    void settle(Handle handle, Hold begun, Instant now) {
        settle(handle, begun, now, begun.who(), begun.why());
    }

    /** Settles what a hold concerns, now that it has begun or ended. The caller holds the site's lock. */
    void settle(Handle handle, Hold hold, Instant now, String who, String why) {
        List<UUID> concerned = handle.createQuery("select id from alert where subject = :subject and state <> 'normal'"
                        + " and (cast(:condition as text) is null or condition = :condition) order by id")
                .bind("subject", hold.subject())
                .bind("condition", hold.condition())
                .mapTo(UUID.class)
                .list();
        for (UUID id : concerned) {
            StoredAlert.locked(handle, id).ifPresent(alert -> settle(handle, alert, now, who, why));
        }
    }

    /** Puts an alert into the state that what holds it asks for; says whether anything changed. */
    private boolean settle(Handle handle, StoredAlert alert, Instant now, String who, String why) {
        Condition condition = alert.finding().condition();
        Optional<Hold> strongest =
                HoldStore.of(handle, alert.subject(), condition.code()).stream().findFirst();
        AlertLife after = new Standing(books.life().latches(condition), strongest.map(Hold::kind)).settle(alert.life());
        if (after.state() == alert.life().state()) {
            return false;
        }
        String what = after.state().isHeld()
                ? after.state().code().replace('-', ' ')
                : after.state() == AlertState.UNACKNOWLEDGED ? "counts again" : "counts again, seen before";
        AlertChanges.step(handle, alert, after, now, who, what, why);
        return true;
    }

    /** Ends a shelf whose time is up. */
    void expire(Handle handle, Hold shelf, Instant now) {
        String why = "its time was up";
        HoldStore.end(handle, shelf.id(), now, AlertChanges.RULES, why);
        settle(handle, shelf, now, AlertChanges.RULES, why);
    }

    /**
     * Begins and ends what circumstances suppress on one open alert.
     *
     * @return whether anything changed
     */
    boolean suppress(Handle handle, UUID id, Instant now) {
        Optional<StoredAlert> found = StoredAlert.locked(handle, id);
        if (found.isEmpty()) {
            return false;
        }
        StoredAlert alert = found.get();
        Condition condition = alert.finding().condition();
        if (!(alert.life() instanceof AlertLife.Present)) {
            suppressor.end(handle, alert.subject(), condition, now);
            return false;
        }
        String site = alert.finding().site();
        Set<Circumstance> known = CircumstanceQuery.of(handle, new Subject(alert.subject(), site), now);
        Optional<Hold> strongest = suppressor.refresh(handle, alert.subject(), site, condition, known, now);
        return settle(
                handle,
                alert,
                now,
                AlertChanges.RULES,
                strongest.map(Hold::why).orElse("what suppressed it has ended"));
    }
}
