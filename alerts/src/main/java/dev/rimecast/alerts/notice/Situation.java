package dev.rimecast.alerts.notice;

import dev.rimecast.telemetry.finding.Priority;
import java.time.Instant;
import java.util.Optional;

/**
 * How the cases of a matter stand now.
 *
 * @param isOver every one of them is closed
 * @param speaks whether this matter speaks for them; not where another case with a matter of its own took them over
 * @param counts whether an alert is there and not held
 * @param isUnseen whether one of those is not acknowledged
 * @param unseenSince since when, where it is known: raised, worse than what was acknowledged, or no longer put aside
 * @param isWorse whether an unseen one was raised, or raised again, since people last saw to it; not where it only counts again
 * @param priority the most urgent of those that count
 * @param actBy the earliest date of those that count
 * @param iceAtRisk whether the site's ice may run out, or a machine stands still and nobody can tell how long it lasts
 * @param trouble what kind it is
 */
public record Situation(
        boolean isOver,
        boolean speaks,
        boolean counts,
        boolean isUnseen,
        Optional<Instant> unseenSince,
        boolean isWorse,
        Priority priority,
        Optional<Instant> actBy,
        boolean iceAtRisk,
        Trouble trouble) {}
