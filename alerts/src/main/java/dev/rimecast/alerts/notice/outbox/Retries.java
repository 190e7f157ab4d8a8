package dev.rimecast.alerts.notice.outbox;

import java.time.Duration;
import java.util.Optional;
import java.util.random.RandomGenerator;

/**
 * When the next attempt is: 5 s after the first, then four times as long each time up to 12 h, each a fifth shorter or
 * longer by chance, so that what failed together does not come back together. Twelve attempts within about three days.
 */
final class Retries {
    static final int MOST_ATTEMPTS = 12;

    private static final Duration FIRST = Duration.ofSeconds(5);
    private static final Duration LONGEST = Duration.ofHours(12);
    private static final double SPREAD = 0.2;

    private final RandomGenerator random;

    Retries(RandomGenerator random) {
        this.random = random;
    }

    /**
     * @param attempts so far, at least 1
     * @param notBefore what the receiver asked for: never sooner
     * @return empty when it is given up
     */
    Optional<Duration> next(int attempts, Optional<Duration> notBefore) {
        if (attempts >= MOST_ATTEMPTS) {
            return Optional.empty();
        }
        double planned = FIRST.toMillis() * StrictMath.pow(4, attempts - 1.0);
        double spread = 1 - SPREAD + 2 * SPREAD * random.nextDouble();
        Duration pause = Duration.ofMillis((long) (StrictMath.min(planned, LONGEST.toMillis()) * spread));
        return Optional.of(notBefore.filter(asked -> asked.compareTo(pause) > 0).orElse(pause));
    }
}
