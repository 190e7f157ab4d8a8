package dev.rimecast.alerts.people;

import java.time.Duration;
import java.time.Instant;
import java.util.UUID;

/**
 * A browser that is signed in. Only the hash of its token is kept.
 *
 * @param usedAt when it last asked for something, to the minute
 * @param endsAt when it ends whatever happens
 * @param client what the browser calls itself
 */
public record Session(
        UUID id, UUID account, Instant beganAt, Instant usedAt, Instant endsAt, String address, String client) {
    /** An open page asks at least twice a minute, so this is how long a closed one can be opened again. */
    public static final Duration IDLE = Duration.ofMinutes(30);
    /** A long working day. OWASP ASVS 5.0, 7.3.2, asks for a limit and leaves its length to the product. */
    public static final Duration LONGEST = Duration.ofHours(12);

    boolean isOver(Instant now) {
        return !now.isBefore(endsAt) || !now.isBefore(usedAt.plus(IDLE));
    }
}
