package dev.rimecast.alerts.life;

import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.telemetry.finding.Condition;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * One alert from its raise to its end, as far as the rules need it.
 *
 * @param subject machine, or {@code gateway:…}, or {@code site:…}
 * @param revision the newest revision of the finding that was taken in
 * @param supersededBy the later episode of the same subject and condition that ended this one
 */
public record Episode(
        UUID id,
        String subject,
        Condition condition,
        Instant raisedAt,
        int revision,
        AlertLife life,
        Optional<UUID> supersededBy) {

    /** Whether it still asks for somebody: anything but normal. */
    public boolean isOpen() {
        return life.state() != AlertState.NORMAL;
    }

    public Episode at(int newRevision, AlertLife newLife) {
        return new Episode(id, subject, condition, raisedAt, newRevision, newLife, supersededBy);
    }

    Episode endedBy(UUID successor) {
        AlertLife over = life instanceof AlertLife.Open open ? open.superseded() : life;
        return new Episode(id, subject, condition, raisedAt, revision, over, Optional.of(successor));
    }

    /** The later raise of two episodes stands; ids decide between equal times, so that every order of arrival agrees. */
    boolean isLaterThan(Episode other) {
        int byTime = raisedAt.compareTo(other.raisedAt);
        return byTime != 0 ? byTime > 0 : id.compareTo(other.id) > 0;
    }
}
