package dev.rimecast.alerts.store;

import dev.rimecast.alerts.life.Circumstance;
import dev.rimecast.alerts.life.LifeBook.Suppression;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.view.Hold;
import dev.rimecast.telemetry.finding.Condition;
import java.time.Instant;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/** Begins and ends the holds that circumstances make, by the rules of {@code life.yaml}. */
final class Suppressor {
    private static final String OVER = "it has ended";

    private final BooksInForce books;

    Suppressor(BooksInForce books) {
        this.books = books;
    }

    /**
     * Brings the hold on one condition of a machine in line with the circumstances.
     *
     * @return what holds it now, strongest first of whatever kind
     */
    Optional<Hold> refresh(
            Handle handle, String machine, String site, Condition condition, Set<Circumstance> known, Instant now) {
        Optional<Suppression> wanted = books.life().suppression(condition, known);
        Optional<Hold> current = suppression(handle, machine, condition);
        String rule = wanted.map(w -> w.circumstance().code()).orElse("");
        if (current.isPresent() && !current.get().who().equals(rule)) {
            HoldStore.end(handle, current.get().id(), now, AlertChanges.RULES, OVER);
        }
        if (wanted.isPresent() && current.filter(c -> c.who().equals(rule)).isEmpty()) {
            HoldStore.begin(
                    handle,
                    new Hold(
                            UUID.randomUUID(),
                            Hold.Kind.SUPPRESSED,
                            machine,
                            site,
                            Optional.of(condition.code()),
                            rule,
                            wanted.get().words(),
                            Optional.empty(),
                            now,
                            Optional.empty()));
        }
        return HoldStore.of(handle, machine, condition.code()).stream().findFirst();
    }

    /** The alert is over: there is nothing left to suppress. */
    void end(Handle handle, String subject, Condition condition, Instant now) {
        suppression(handle, subject, condition)
                .ifPresent(hold -> HoldStore.end(handle, hold.id(), now, AlertChanges.RULES, "the alert is over"));
    }

    private static Optional<Hold> suppression(Handle handle, String subject, Condition condition) {
        return HoldStore.of(handle, subject, condition.code()).stream()
                .filter(hold -> hold.kind() == Hold.Kind.SUPPRESSED)
                .findFirst();
    }
}
