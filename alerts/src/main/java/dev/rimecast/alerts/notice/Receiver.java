package dev.rimecast.alerts.notice;

import java.time.Instant;
import java.util.Optional;

/**
 * Somebody who is told.
 *
 * @param hours when; at any time where there are none
 */
public record Receiver(String name, Channel channel, Optional<OpeningHours> hours) {

    /** {@code at}, or the beginning of the hours after it. */
    Instant earliest(Instant at) {
        return hours.map(open -> open.nextOpen(at)).orElse(at);
    }
}
