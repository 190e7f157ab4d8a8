package dev.rimecast.ingest.mqtt;

import java.time.Duration;

/**
 * How fast one connection may send: a bucket of tokens that refills steadily. Who takes more than there is goes into
 * debt and must wait it off; nothing is refused. Not for use by several threads.
 */
final class RateLimit {
    private final double perSecond;
    private final double burst;
    private double tokens;
    private long refilledAtNanos;

    /**
     * @param perSecond messages a second, sustained; infinite: no limit
     * @param burst messages that may come at once after a rest
     * @param nowNanos of a monotonic clock
     */
    RateLimit(double perSecond, double burst, long nowNanos) {
        this.perSecond = perSecond;
        this.burst = burst;
        this.tokens = burst;
        this.refilledAtNanos = nowNanos;
    }

    /**
     * Takes one message into account.
     *
     * @return how long to read nothing more; zero: read on
     */
    Duration take(long nowNanos) {
        if (Double.isInfinite(perSecond)) {
            return Duration.ZERO;
        }
        tokens = Math.min(burst, tokens + (nowNanos - refilledAtNanos) / 1e9 * perSecond);
        refilledAtNanos = nowNanos;
        tokens -= 1;
        return tokens >= 0 ? Duration.ZERO : Duration.ofNanos((long) Math.ceil(-tokens / perSecond * 1e9));
    }
}
