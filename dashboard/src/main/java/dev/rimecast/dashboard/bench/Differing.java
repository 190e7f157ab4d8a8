package dev.rimecast.dashboard.bench;

import java.time.Instant;
import java.util.Optional;

/**
 * Where a candidate differs from the policy in force.
 *
 * @param kind {@code added}, {@code left-out}, {@code earlier}, {@code later}, {@code over-sooner}, {@code over-later}
 * @param cause code of what was most probable; empty where nothing could be said
 * @param current what the policy in force has made of it
 * @param candidate what the other has
 * @param judged {@code right}, {@code wrong}, {@code contradicting} or {@code unknown}; absent where nobody has asked
 */
public record Differing(
        String kind,
        String site,
        Optional<String> machine,
        Optional<String> gateway,
        String condition,
        String cause,
        String summary,
        Optional<Stood> current,
        Optional<Stood> candidate,
        Optional<String> judged) {

    /** From when to when an alert stood. */
    public record Stood(Instant raisedAt, Optional<Instant> clearedAt, String priority) {}
}
