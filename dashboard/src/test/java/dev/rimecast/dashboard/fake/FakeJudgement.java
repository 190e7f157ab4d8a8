package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.priority.Clocks;
import dev.rimecast.alerts.priority.PriorityBook;
import dev.rimecast.alerts.rules.Effect;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.telemetry.finding.Finding;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** What a priority book would make of the fleet in memory, whose sites have no ice clock. */
final class FakeJudgement {
    private FakeJudgement() {}

    static Effect of(FakeFleet fleet, PriorityBook book, Instant now) {
        List<AlertView> alerts = fleet.alerts(AlertFilter.OPEN, Integer.MAX_VALUE);
        return new Effect(
                alerts.size(),
                alerts.stream()
                        .flatMap(alert -> change(alert, book, now).stream())
                        .toList());
    }

    private static Optional<Effect.Change> change(AlertView alert, PriorityBook book, Instant now) {
        Finding finding = alert.finding();
        Clocks clocks = new Clocks(
                Clocks.Ice.NOT_KNOWN, Optional.empty(), finding.limit().map(Finding.LimitExpected::early));
        PriorityBook.Decision decision =
                book.decide(finding.priority(), finding.stage(), finding.condition(), clocks, now);
        return decision.priority() == alert.priority()
                ? Optional.empty()
                : Optional.of(new Effect.Change(
                        finding.id(),
                        finding.machine().or(finding::gateway).orElse(""),
                        alert.siteName(),
                        finding.condition(),
                        alert.priority(),
                        decision.priority(),
                        decision.why()));
    }
}
