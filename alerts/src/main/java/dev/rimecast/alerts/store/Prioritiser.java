package dev.rimecast.alerts.store;

import dev.rimecast.alerts.advice.LatestDate;
import dev.rimecast.alerts.priority.Clocks;
import dev.rimecast.alerts.priority.PriorityBook;
import dev.rimecast.alerts.priority.PriorityBook.Decision;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Priority;
import java.time.Instant;
import java.util.Optional;
import org.jdbi.v3.core.Handle;

/** Decides how urgent an alert is, by {@code priority.yaml} and the ice clock of its site. */
final class Prioritiser {
    private final BooksInForce books;

    Prioritiser(BooksInForce books) {
        this.books = books;
    }

    /**
     * What stands in the alert's row.
     *
     * @param why in words; empty where detection's own priority stands
     * @param iceOut when the site runs out of ice, for alerts that have to do with it
     */
    record Decided(Priority priority, String why, Optional<Instant> iceOut) {

        /** The earlier of both clocks: by when somebody must have acted. */
        Optional<Instant> actBy(Finding finding, Instant since) {
            Optional<Instant> latest = LatestDate.of(finding, priority, since);
            return new Clocks(Clocks.Ice.NOT_KNOWN, iceOut, latest).earlier();
        }
    }

    Decided decide(Handle handle, Finding finding, Instant now) {
        return decide(handle, books.priority(), finding, now);
    }

    static Decided decide(Handle handle, PriorityBook book, Finding finding, Instant now) {
        Clocks clocks = clocks(handle, book, finding);
        Decision decision = book.decide(finding.priority(), finding.stage(), finding.condition(), clocks, now);
        return new Decided(decision.priority(), decision.why(), clocks.iceOut());
    }

    private static Clocks clocks(Handle handle, PriorityBook book, Finding finding) {
        Optional<Instant> limit = finding.limit().map(Finding.LimitExpected::early);
        if (!book.makesLessIce(finding.condition())) {
            return new Clocks(Clocks.Ice.NOT_KNOWN, Optional.empty(), limit);
        }
        return IceStore.read(handle, finding.site())
                .map(row -> new Clocks(row.ice(), row.likely().or(row::early), limit))
                .orElseGet(() -> new Clocks(Clocks.Ice.NOT_KNOWN, Optional.empty(), limit));
    }
}
