package dev.rimecast.ingest.broker;

/**
 * How much of one gateway is taken from a broker. The broker can't be held back for one gateway: what it sends is acknowledged in the order
 * in which it came [MQTT-4.6.0-2], so whoever waits makes everybody wait. A gateway may therefore bring a long backlog at once, and is
 * limited only beyond what any honest backlog can be.
 *
 * <p>A message counts once for each {@link #BYTES} begun.
 *
 * @param packsPerSecond sustained; infinite: no limit
 * @param backlogPacks at once after a rest: what a gateway's store, or the broker, may hold of it after days without us
 */
public record BrokerLimits(double packsPerSecond, int backlogPacks) {
    /** Of a message that counts as one, bytes: some ten times a usual pack. */
    static final int BYTES = 16 * 1024;

    /** A pack of 256 KiB, the largest that is taken, counts as many; with less it would never come in. */
    public static final int LEAST_BACKLOG = 256 * 1024 / BYTES;

    /** As at our own endpoint, and a pack each six seconds for the seven days that a broker keeps our session. */
    public static final BrokerLimits STANDARD = new BrokerLimits(50, 100_800);

    public BrokerLimits {
        if (!(packsPerSecond > 0)) {
            throw new IllegalArgumentException("packsPerSecond must be above 0, was " + packsPerSecond);
        }
        if (backlogPacks < LEAST_BACKLOG) {
            throw new IllegalArgumentException(
                    "backlogPacks must be at least " + LEAST_BACKLOG + ", was " + backlogPacks);
        }
    }

    public static BrokerLimits none() {
        return new BrokerLimits(Double.POSITIVE_INFINITY, LEAST_BACKLOG);
    }

    boolean isNone() {
        return Double.isInfinite(packsPerSecond);
    }
}
