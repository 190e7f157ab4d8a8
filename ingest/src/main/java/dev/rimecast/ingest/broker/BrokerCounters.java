package dev.rimecast.ingest.broker;

import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.MeterRegistry;

/**
 * What happens on the way to the broker; what becomes of the messages is counted as for every other way in. A pack whose
 * receipt was late comes again and is counted as received twice.
 */
final class BrokerCounters {
    private final Counter connections;
    private final Counter sessions;
    private final Counter late;
    private final Counter dropped;
    private final Counter letGo;

    BrokerCounters(MeterRegistry registry) {
        connections = counter(registry, "connections", "Connections made; grows when the line breaks");
        sessions = counter(
                registry,
                "sessions.begun",
                "Connections on which the broker did not know us: all but the first may have lost what it kept");
        late = counter(registry, "receipts.late", "Messages stored after their connection ended; they come again");
        dropped = counter(
                registry,
                "unpromised.dropped",
                "Messages with QoS 0 that came while Kafka was behind: nobody keeps them");
        letGo = counter(
                registry,
                "over.limit.let.go",
                "Messages beyond what their gateway may bring: acknowledged to the broker, not kept, and not to the gateway, which sends again what it has numbered");
    }

    private static Counter counter(MeterRegistry registry, String name, String description) {
        return Counter.builder("rimecast.ingest.broker." + name)
                .description(description)
                .register(registry);
    }

    void connected(boolean isSessionPresent) {
        connections.increment();
        if (!isSessionPresent) {
            sessions.increment();
        }
    }

    void receiptWasLate() {
        late.increment();
    }

    void dropped() {
        dropped.increment();
    }

    void letGo() {
        letGo.increment();
    }
}
