package dev.rimecast.alerts.cases;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;

/**
 * What the rules need of an alert.
 *
 * @param machine absent for an alert about a gateway or a site
 * @param gateway the machine's, or the one that the alert is about
 * @param room where the machine stands, where that is known
 * @param causes most probable first
 */
public record Member(
        UUID alert,
        String site,
        Optional<String> machine,
        Optional<String> gateway,
        Optional<String> room,
        Condition condition,
        List<Finding.ProbableCause> causes,
        Instant raisedAt) {

    public Member {
        causes = List.copyOf(causes);
    }

    /** The first cause, where it is probable enough. */
    Optional<Cause> told(CaseBook book) {
        return causes.stream()
                .findFirst()
                .filter(first -> first.probability() >= book.toldFrom())
                .map(Finding.ProbableCause::cause);
    }

    Set<Cause> thinkable(CaseBook book) {
        return causes.stream()
                .filter(cause -> cause.probability() >= book.alsoFrom())
                .map(Finding.ProbableCause::cause)
                .collect(Collectors.toUnmodifiableSet());
    }

    /** Whom it is about, for an alert without a machine. */
    String subject() {
        return machine.or(() -> gateway.map(g -> "gateway:" + g)).orElse("site:" + site);
    }
}
