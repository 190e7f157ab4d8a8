package dev.rimecast.ingest;

import java.time.Duration;

/**
 * How ingest runs.
 *
 * @param bootstrapServers of Kafka
 * @param mqttHost where gateways connect; a loopback address, as long as gateways have no credentials
 * @param mqttPort 0: any free port
 * @param packsPerSecond how many messages one connection may send, sustained; infinite: no limit. Who sends more is
 *     read more slowly, nothing is dropped
 * @param burstPacks how many may come at once after a rest
 * @param maxPacksInFlight messages on their way to Kafka, of all connections together; at this many nothing is read
 * @param maxBytesInFlight likewise, bytes
 * @param deliveryTimeout when a write that Kafka has not confirmed is given up: no receipt leaves and the connection
 *     is closed, so that the gateway sends again. Long, so that it is rare
 */
public record IngestSettings(
        String bootstrapServers,
        String mqttHost,
        int mqttPort,
        double packsPerSecond,
        double burstPacks,
        int maxPacksInFlight,
        long maxBytesInFlight,
        Duration deliveryTimeout) {

    public IngestSettings {
        if (mqttPort < 0 || mqttPort > 65_535) {
            throw new IllegalArgumentException("mqttPort must be 0 to 65535, was " + mqttPort);
        }
        if (!(packsPerSecond > 0)) {
            throw new IllegalArgumentException("packsPerSecond must be above 0, was " + packsPerSecond);
        }
        if (!(burstPacks >= 1)) {
            throw new IllegalArgumentException("burstPacks must be at least 1, was " + burstPacks);
        }
        if (maxPacksInFlight < 1 || maxBytesInFlight < 1) {
            throw new IllegalArgumentException("maxPacksInFlight and maxBytesInFlight must be at least 1, were "
                    + maxPacksInFlight + " and " + maxBytesInFlight);
        }
        if (deliveryTimeout.compareTo(Duration.ofSeconds(1)) < 0) {
            throw new IllegalArgumentException("deliveryTimeout must be at least 1 s, was " + deliveryTimeout);
        }
    }

    /** 50 packs a second and connection, bursts of 500; 20,000 packs or 32 MiB under way; five minutes to deliver. */
    public static IngestSettings standard(String bootstrapServers) {
        return new IngestSettings(
                bootstrapServers, "127.0.0.1", 1883, 50, 500, 20_000, 32L << 20, Duration.ofMinutes(5));
    }

    public IngestSettings withMqtt(String host, int port) {
        return new IngestSettings(
                bootstrapServers,
                host,
                port,
                packsPerSecond,
                burstPacks,
                maxPacksInFlight,
                maxBytesInFlight,
                deliveryTimeout);
    }

    /** At most so many messages a second and connection, sustained. */
    public IngestSettings withRate(double packs) {
        return new IngestSettings(
                bootstrapServers,
                mqttHost,
                mqttPort,
                packs,
                Math.max(1, 10 * packs),
                maxPacksInFlight,
                maxBytesInFlight,
                deliveryTimeout);
    }

    /** Without a limit per connection: for a simulated fleet that lives through weeks in minutes. */
    public IngestSettings withoutRateLimit() {
        return new IngestSettings(
                bootstrapServers,
                mqttHost,
                mqttPort,
                Double.POSITIVE_INFINITY,
                burstPacks,
                maxPacksInFlight,
                maxBytesInFlight,
                deliveryTimeout);
    }

    public IngestSettings withInFlight(int maxPacks, long maxBytes, Duration timeout) {
        return new IngestSettings(
                bootstrapServers, mqttHost, mqttPort, packsPerSecond, burstPacks, maxPacks, maxBytes, timeout);
    }
}
