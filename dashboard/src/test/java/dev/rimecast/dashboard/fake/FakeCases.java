package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.AlertView.AuditLine;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.telemetry.finding.NameBasedId;
import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;

/** Cases of the fake fleet: one for each machine; the station kitchen on site 5 is one, as if its water were off. */
final class FakeCases {
    private static final String DRY = "site-5";

    private FakeCases() {}

    static UUID idOf(String site, String subject) {
        return NameBasedId.of("case|" + (site.equals(DRY) ? site : subject));
    }

    static List<CaseView> of(List<AlertView> alerts, Instant now) {
        Map<UUID, List<AlertView>> cases = alerts.stream()
                .filter(alert -> alert.caseId().isPresent())
                .collect(Collectors.groupingBy(
                        alert -> alert.caseId().orElseThrow(), LinkedHashMap::new, Collectors.toList()));
        return cases.entrySet().stream()
                .map(entry -> of(entry.getKey(), entry.getValue(), now))
                .toList();
    }

    private static CaseView of(UUID id, List<AlertView> alerts, Instant now) {
        AlertView first = alerts.get(0);
        boolean dry = first.finding().site().equals(DRY);
        boolean over = alerts.stream().allMatch(alert -> alert.state() == AlertState.NORMAL);
        return new CaseView(
                id,
                first.finding().site(),
                first.siteName(),
                dry ? Optional.of("Too little water comes to several machines") : Optional.empty(),
                dry ? Optional.empty() : first.finding().machine(),
                dry ? Optional.of("water-off") : Optional.empty(),
                dry ? Optional.of("") : Optional.empty(),
                first.finding().probableCause().map(cause -> cause.cause().code()),
                first.finding().raisedAt(),
                over ? Optional.of(now) : Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                alerts,
                dry
                        ? List.of(new CaseView.Call(
                                now.minus(Duration.ofHours(4)), Optional.empty(), "little-ice", "kitchen desk", "4711"))
                        : List.of(),
                List.of(new AuditLine(first.finding().raisedAt(), "Rimecast", "opened", "")));
    }
}
