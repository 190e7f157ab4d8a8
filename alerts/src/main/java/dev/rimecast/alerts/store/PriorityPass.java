package dev.rimecast.alerts.store;

import dev.rimecast.alerts.ice.IceOutlook;
import dev.rimecast.alerts.life.AlertLife;
import dev.rimecast.alerts.life.Severity;
import dev.rimecast.alerts.priority.PriorityBook;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.store.Prioritiser.Decided;
import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/**
 * Brings the ice clocks of sites with trouble up to date every quarter of an hour, and each minute the priorities of
 * alerts that are there, at once when the rules were changed. What gets more urgent than it was when it was seen is new
 * again.
 */
public final class PriorityPass {
    private static final Duration RECKON_EVERY = Duration.ofMinutes(15);
    private static final Duration DECIDE_EVERY = Duration.ofMinutes(1);

    /** What the audit says of a priority that only other rules have changed. */
    static final String RULES_CHANGED = " (the rules were changed)";

    /** States of alerts whose condition is there. */
    static final String PRESENT =
            "'unacknowledged', 'acknowledged', 'shelved', 'suppressed-by-design', 'out-of-service'";

    private final Database database;
    private final BooksInForce books;
    private Instant decided = Instant.MIN;
    private PriorityBook decidedBy;

    public PriorityPass(Database database, BooksInForce books) {
        this.database = database;
        this.books = books;
        this.decidedBy = books.priority();
    }

    private record Present(UUID id, String site, Condition condition) {}

    /** @return what the pages should look at again */
    public Collection<Change> run(Instant now) {
        PriorityBook book = books.priority();
        boolean sameRules = book.equals(decidedBy);
        boolean tooSoon = sameRules
                && !decided.equals(Instant.MIN)
                && now.isBefore(decided.plus(DECIDE_EVERY))
                && !now.isBefore(decided);
        if (tooSoon) {
            return List.of();
        }
        decided = now;
        decidedBy = book;
        List<Present> present = database.jdbi().withHandle(PriorityPass::present);
        TreeSet<String> troubled = new TreeSet<>();
        present.stream().filter(alert -> book.makesLessIce(alert.condition())).forEach(a -> troubled.add(a.site()));
        reckon(troubled, now);
        List<Change> changes = new ArrayList<>();
        for (Present alert : present) {
            if (!alert.condition().isCare()) {
                database.jdbi()
                        .inTransaction(handle -> decide(handle, book, alert, sameRules ? "" : RULES_CHANGED, now))
                        .ifPresent(changes::add);
            }
        }
        return changes;
    }

    private static List<Present> present(Handle handle) {
        return handle.createQuery("select id, site, condition from alert where state in (" + PRESENT + ") order by id")
                .map((row, context) -> new Present(
                        row.getObject(1, UUID.class),
                        row.getString(2),
                        Condition.ofCode(row.getString(3)).orElseThrow()))
                .list();
    }

    private void reckon(TreeSet<String> troubled, Instant now) {
        List<String> known = database.jdbi()
                .withHandle(handle -> handle.createQuery("select site from ice_outlook")
                        .mapTo(String.class)
                        .list());
        known.stream()
                .filter(site -> !troubled.contains(site))
                .forEach(site -> database.jdbi().useTransaction(handle -> IceStore.remove(handle, site)));
        for (String id : troubled) {
            database.jdbi().useTransaction(handle -> {
                Optional<Site> site = RegisterStore.site(handle, id);
                boolean isFresh = IceStore.read(handle, id)
                        .filter(row -> !row.reckoned().isAfter(now)
                                && now.isBefore(row.reckoned().plus(RECKON_EVERY)))
                        .isPresent();
                if (site.isPresent() && !isFresh) {
                    IceOutlook outlook = IceReckoner.reckon(handle, site.get(), now);
                    IceStore.write(handle, id, outlook, site.get().timeZone(), now);
                }
            });
        }
    }

    private static Optional<Change> decide(
            Handle handle, PriorityBook book, Present which, String because, Instant now) {
        Optional<StoredAlert> unlocked = StoredAlert.read(handle, which.id());
        if (unlocked.isEmpty() || isAsDecided(handle, book, unlocked.get(), now)) {
            return Optional.empty();
        }
        SiteLocks.take(handle, List.of(which.site()));
        Optional<StoredAlert> found = StoredAlert.locked(handle, which.id());
        if (found.isEmpty() || !(found.get().life() instanceof AlertLife.Present)) {
            return Optional.empty();
        }
        StoredAlert alert = found.get();
        Finding finding = alert.finding();
        Decided now_ = Prioritiser.decide(handle, book, finding, now);
        boolean changed = now_.priority() != alert.priority();
        Instant since = changed ? now : alert.severitySince();
        handle.createUpdate("""
                update alert set priority = :priority, priority_why = :why, ice_out_at = :iceOut, act_by = :actBy,
                    severity_since = :since where id = :id""")
                .bind("id", which.id())
                .bind("priority", now_.priority().code())
                .bind("why", now_.why())
                .bind("iceOut", now_.iceOut())
                .bind("actBy", now_.actBy(finding, since))
                .bind("since", since)
                .execute();
        if (changed) {
            AlertLife after = alert.life().present(new Severity(finding.stage(), now_.priority()));
            String what = after.state() == alert.life().state() ? "priority changed" : "raised again";
            String why = now_.priority().code() + (now_.why().isEmpty() ? "" : ": " + now_.why()) + because;
            AlertChanges.step(handle, alert, after, now, AlertChanges.RULES, what, why);
        }
        return Optional.of(new Change(
                "alert",
                finding.site(),
                finding.machine().orElse(""),
                which.id().toString()));
    }

    private static boolean isAsDecided(Handle handle, PriorityBook book, StoredAlert alert, Instant now) {
        Decided decision = Prioritiser.decide(handle, book, alert.finding(), now);
        return decision.priority() == alert.priority()
                && decision.why().equals(alert.priorityWhy())
                && decision.iceOut().equals(alert.iceOutAt());
    }
}
