package dev.rimecast.alerts.work;

import dev.rimecast.alerts.acceptance.AcceptanceView;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import java.util.List;

/** Records of commissioning. Safe for many threads. */
public interface Commissioning {
    /**
     * Stores a record. The same id again adds nothing: what was stored first stands.
     *
     * @param sites where the machine may be
     */
    Outcome commission(SiteScope sites, String machine, Commissioned record, Person who);

    /** Newest first. */
    List<Commissioned.Stored> commissionings(SiteScope sites, String machine);

    /** How the machine did in its first cycles, each time that it was new, moved or exchanged; newest first. */
    List<AcceptanceView> acceptances(SiteScope sites, String machine);

    /** How a record ended. */
    sealed interface Outcome {
        record Added(Commissioned.Stored record) implements Outcome {}

        record Known(Commissioned.Stored record) implements Outcome {}

        /** @param what is not there, in words */
        record NotFound(String what) implements Outcome {}

        /**
         * @param member which part of the record
         * @param reason in words after the member's name
         */
        record Refused(String member, String reason) implements Outcome {}
    }
}
