package dev.rimecast.simulator.gateway;

import java.time.Duration;

/**
 * How a gateway sends what waited.
 *
 * @param backlogPerSecond packs a second of what was there when the line came back; what comes later queues behind it
 * @param againAfter how long receipts without cover are believed: then what is not covered is sent again, since a broker
 *     in between may have lost it
 */
public record Pace(double backlogPerSecond, Duration againAfter) {
    /** 10 packs a second; a minute. */
    public static final Pace STANDARD = new Pace(10, Duration.ofMinutes(1));

    /** As fast as receipts allow. */
    public static final Pace UNLIMITED = new Pace(Double.POSITIVE_INFINITY, Duration.ofMinutes(1));

    public Pace {
        if (!(backlogPerSecond > 0)) {
            throw new IllegalArgumentException("backlogPerSecond must be above 0, was " + backlogPerSecond);
        }
        if (againAfter.isNegative() || againAfter.isZero()) {
            throw new IllegalArgumentException("againAfter must be above 0, was " + againAfter);
        }
    }

    long nanosBetween() {
        return (long) (1e9 / backlogPerSecond);
    }
}
