package dev.rimecast.alerts.view;

import dev.rimecast.alerts.view.AlertView.AuditLine;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * Alerts and calls that are one problem.
 *
 * @param title what hits the place, in words; absent for trouble of one machine, which its alerts say
 * @param subject the machine, gateway or site that it is trouble of; absent where it hits a place
 * @param common name of what hits the place
 * @param place room or gateway that is hit; empty for the whole site
 * @param cause code of what it is about, where that can be told
 * @param spokenForBy the case of the same site and cause by whose notice people know of this one, too
 * @param mergedInto the case that took its alerts over
 * @param alerts most urgent first
 * @param calls oldest first
 */
public record CaseView(
        UUID id,
        String site,
        String siteName,
        Optional<String> title,
        Optional<String> subject,
        Optional<String> common,
        Optional<String> place,
        Optional<String> cause,
        Instant openedAt,
        Optional<Instant> closedAt,
        Optional<UUID> spokenForBy,
        Optional<UUID> mergedInto,
        List<AlertView> alerts,
        List<Call> calls,
        List<AuditLine> audit) {

    /** What somebody on the site reported. */
    public record Call(Instant at, Optional<String> machine, String detail, String by, String job) {}

    public CaseView {
        alerts = List.copyOf(alerts);
        calls = List.copyOf(calls);
        audit = List.copyOf(audit);
    }
}
