package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.telemetry.finding.Priority;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;

/**
 * Alerts and calls that are one problem.
 *
 * @param title what hits the place; left out for trouble of one machine, which its first alert says
 * @param priority the most urgent of its alerts that count
 * @param actBy the earliest date of its alerts that count
 * @param spokenForBy the case by whose notice people know of this one, too
 */
public record CaseJson(
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
        Optional<String> priority,
        Optional<Instant> actBy,
        Optional<UUID> spokenForBy,
        Optional<UUID> mergedInto,
        List<AlertSummaryJson> alerts,
        List<CallJson> calls,
        List<AlertJson.AuditJson> history) {

    /** What somebody on the site reported. */
    public record CallJson(Instant at, Optional<String> machine, String detail, String by, String job) {}

    public static CaseJson of(CaseView view) {
        return new CaseJson(
                view.id(),
                view.site(),
                view.siteName(),
                view.title(),
                view.subject(),
                view.common(),
                view.place().filter(place -> !place.isEmpty()),
                view.cause(),
                view.openedAt(),
                view.closedAt(),
                counting(view)
                        .map(AlertView::priority)
                        .min(Comparator.naturalOrder())
                        .map(Priority::code),
                counting(view)
                        .flatMap(alert -> alert.advice().latestDate().stream())
                        .min(Comparator.naturalOrder()),
                view.spokenForBy(),
                view.mergedInto(),
                view.alerts().stream().map(AlertSummaryJson::of).toList(),
                view.calls().stream()
                        .map(call -> new CallJson(call.at(), call.machine(), call.detail(), call.by(), call.job()))
                        .toList(),
                view.audit().stream()
                        .map(line -> new AlertJson.AuditJson(line.at(), line.who(), line.what(), line.why()))
                        .toList());
    }

    private static Stream<AlertView> counting(CaseView view) {
        return view.alerts().stream().filter(alert -> alert.state().isActive());
    }
}
