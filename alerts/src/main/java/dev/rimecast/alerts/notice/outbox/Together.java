package dev.rimecast.alerts.notice.outbox;

import java.time.Duration;

/**
 * When what hits many sites at once (their gateways fall silent, their power or water is off) goes to one mail receiver together: hundreds of
 * mails within minutes are read by nobody. A few go by themselves; then what is due waits for {@link #LATELY} at most, and goes together: what
 * was planned within an hour, since what came hours apart has not one cause. Webhooks are read by programs, and get an event for each site at once.
 */
final class Together {
    /** Mails that tell one receiver the same of different sites, within {@link #LATELY}. */
    static final int SINGLE = 3;

    static final Duration LATELY = Duration.ofMinutes(10);
    /** What is due of fewer sites than this goes one by one: each has its advice. */
    static final int FEWEST = 5;
    /** In one mail. */
    static final int MOST = 200;

    private Together() {}
}
