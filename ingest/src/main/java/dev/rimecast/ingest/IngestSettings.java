package dev.rimecast.ingest;

import dev.rimecast.ingest.broker.BrokerSettings;
import dev.rimecast.ingest.disk.DiskGuard;
import dev.rimecast.ingest.mqtt.ConnectionLimits;
import dev.rimecast.ingest.mqtt.Listen;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;

/**
 * How ingest runs.
 *
 * @param kafka settings of its clients, at least {@code bootstrap.servers}
 * @param hasEndpoint whether gateways can connect here at all; without it a broker must be there
 * @param mqttHost where they do: a loopback address
 * @param mqttPort 0: any free port
 * @param secure where gateways connect over TLS, with a key; empty: nowhere
 * @param broker to subscribe to; empty: none
 * @param packsPerSecond how many messages one connection may send, sustained; infinite: no limit. Who sends more is
 *     read more slowly, nothing is dropped
 * @param burstPacks how many may come at once after a rest
 * @param maxPacksInFlight messages on their way to Kafka, of all connections together; at this many nothing is read
 * @param maxBytesInFlight likewise, bytes
 * @param deliveryTimeout when a write that Kafka has not confirmed is given up: no receipt leaves and the connection
 *     is closed, so that the gateway sends again. Long, so that it is rare
 * @param disk closes the intake before a disk is full
 * @param isOneOfSeveral whether other instances write to the same Kafka: then they share the ticks
 * @param connections how many gateways may have, at the endpoint
 */
public record IngestSettings(
        Map<String, String> kafka,
        boolean hasEndpoint,
        String mqttHost,
        int mqttPort,
        Optional<Secure> secure,
        Optional<BrokerSettings> broker,
        double packsPerSecond,
        double burstPacks,
        int maxPacksInFlight,
        long maxBytesInFlight,
        Duration deliveryTimeout,
        DiskGuard disk,
        boolean isOneOfSeveral,
        ConnectionLimits connections) {

    /**
     * An address for other machines.
     *
     * @param port 0: any free port
     */
    public record Secure(String host, int port, Listen.Tls tls) {}

    public IngestSettings {
        kafka = Map.copyOf(kafka);
        if (!kafka.containsKey("bootstrap.servers")) {
            throw new IllegalArgumentException("kafka lacks bootstrap.servers");
        }
        if (!hasEndpoint && broker.isEmpty()) {
            throw new IllegalArgumentException("there must be an endpoint or a broker: packs come in no other way");
        }
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
    public static IngestSettings standard(Map<String, String> kafka) {
        return new IngestSettings(
                kafka,
                true,
                "127.0.0.1",
                1883,
                Optional.empty(),
                Optional.empty(),
                50,
                500,
                20_000,
                32L << 20,
                Duration.ofMinutes(5),
                DiskGuard.none(),
                false,
                ConnectionLimits.STANDARD);
    }

    public IngestSettings withMqtt(String host, int port) {
        return with(draft -> {
            draft.hasEndpoint = true;
            draft.mqttHost = host;
            draft.mqttPort = port;
        });
    }

    /** Lets other machines in, too. */
    public IngestSettings withSecure(Secure address) {
        return with(draft -> {
            draft.hasEndpoint = true;
            draft.secure = Optional.of(address);
        });
    }

    /** Where to listen, the address in the clear first. */
    List<Listen> doors() {
        List<Listen> doors = new ArrayList<>();
        doors.add(new Listen(mqttHost, mqttPort, packsPerSecond, burstPacks));
        secure.ifPresent(address -> doors.add(
                new Listen(address.host(), address.port(), packsPerSecond, burstPacks, Optional.of(address.tls()))));
        return doors;
    }

    /** Subscribes to a broker, too. */
    public IngestSettings withBroker(BrokerSettings outside) {
        return withWaysIn(hasEndpoint, outside);
    }

    /** Subscribes to a broker, and nothing else: gateways can't connect here. */
    public IngestSettings withBrokerOnly(BrokerSettings outside) {
        return withWaysIn(false, outside);
    }

    private IngestSettings withWaysIn(boolean endpoint, BrokerSettings outside) {
        return with(draft -> {
            draft.hasEndpoint = endpoint;
            draft.broker = Optional.of(outside);
        });
    }

    /** Beside other instances on the same Kafka. */
    public IngestSettings asOneOfSeveral() {
        return with(draft -> draft.isOneOfSeveral = true);
    }

    /** At most so many messages a second and connection, sustained. */
    public IngestSettings withRate(double packs) {
        return withRate(packs, Math.max(1, 10 * packs));
    }

    /** Without a limit per connection: for a simulated fleet that lives through weeks in minutes. */
    public IngestSettings withoutRateLimit() {
        return withRate(Double.POSITIVE_INFINITY, burstPacks);
    }

    private IngestSettings withRate(double packs, double burst) {
        return with(draft -> {
            draft.packsPerSecond = packs;
            draft.burstPacks = burst;
        });
    }

    /** Only so many connections at a time. */
    public IngestSettings withConnections(ConnectionLimits limits) {
        return with(draft -> draft.connections = limits);
    }

    public IngestSettings withInFlight(int maxPacks, long maxBytes, Duration timeout) {
        return with(draft -> {
            draft.maxPacksInFlight = maxPacks;
            draft.maxBytesInFlight = maxBytes;
            draft.deliveryTimeout = timeout;
        });
    }

    /** Takes nothing in while that guard is closed. */
    public IngestSettings withDisk(DiskGuard guard) {
        return with(draft -> draft.disk = guard);
    }

    /** The same but for what {@code change} sets. */
    private IngestSettings with(Consumer<Draft> change) {
        Draft draft = new Draft(this);
        change.accept(draft);
        return draft.settings();
    }

    /** What can still be set. */
    private static final class Draft {
        private final Map<String, String> kafka;
        private boolean hasEndpoint;
        private String mqttHost;
        private int mqttPort;
        private Optional<Secure> secure;
        private Optional<BrokerSettings> broker;
        private double packsPerSecond;
        private double burstPacks;
        private int maxPacksInFlight;
        private long maxBytesInFlight;
        private Duration deliveryTimeout;
        private DiskGuard disk;
        private boolean isOneOfSeveral;
        private ConnectionLimits connections;

        Draft(IngestSettings from) {
            kafka = from.kafka;
            hasEndpoint = from.hasEndpoint;
            mqttHost = from.mqttHost;
            mqttPort = from.mqttPort;
            secure = from.secure;
            broker = from.broker;
            packsPerSecond = from.packsPerSecond;
            burstPacks = from.burstPacks;
            maxPacksInFlight = from.maxPacksInFlight;
            maxBytesInFlight = from.maxBytesInFlight;
            deliveryTimeout = from.deliveryTimeout;
            disk = from.disk;
            isOneOfSeveral = from.isOneOfSeveral;
            connections = from.connections;
        }

        IngestSettings settings() {
            return new IngestSettings(
                    kafka,
                    hasEndpoint,
                    mqttHost,
                    mqttPort,
                    secure,
                    broker,
                    packsPerSecond,
                    burstPacks,
                    maxPacksInFlight,
                    maxBytesInFlight,
                    deliveryTimeout,
                    disk,
                    isOneOfSeveral,
                    connections);
        }
    }

    /** Without secrets. */
    @Override
    public String toString() {
        return "IngestSettings[" + kafka.get("bootstrap.servers") + ", " + mqttHost + ':' + mqttPort + ']';
    }
}
