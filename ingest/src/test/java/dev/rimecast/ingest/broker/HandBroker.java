package dev.rimecast.ingest.broker;

import dev.rimecast.ingest.ack.LastAcks;
import dev.rimecast.ingest.intake.Intake;
import dev.rimecast.ingest.intake.LineDecoder;
import dev.rimecast.ingest.mqtt.Desk;
import dev.rimecast.ingest.mqtt.Gatekeeper;
import dev.rimecast.ingest.mqtt.HandStore;
import dev.rimecast.telemetry.machine.Register;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Supplier;

/** What is around a subscriber: a broker whose lines do what the test says, a store, receipts and keys. */
final class HandBroker {
    final List<HandLine> lines = new CopyOnWriteArrayList<>();
    final HandStore store;
    final LastAcks acks = new LastAcks();
    final SimpleMeterRegistry meters = new SimpleMeterRegistry();
    /** What the monotonic clock shows. */
    final AtomicLong nanos = new AtomicLong();

    final Gatekeeper gatekeeper = Gatekeeper.waiting(() -> HandLine.NOW);

    HandBroker(HandStore store) {
        this.store = store;
    }

    static BrokerSettings settings() {
        return BrokerSettings.standard("mqtt://127.0.0.1", "ingest-1", "rimecast", Optional.empty());
    }

    /** @param connectLimit from the attempt to the granted subscription; all other times are milliseconds */
    BrokerSubscriber subscriber(BrokerSettings settings, Supplier<Optional<Register>> register, Duration connectLimit) {
        return new BrokerSubscriber(
                settings,
                new Desk(new Intake(new LineDecoder()), register, () -> HandLine.NOW),
                store,
                acks,
                gatekeeper,
                listener -> {
                    HandLine line = new HandLine(listener);
                    lines.add(line);
                    return line;
                },
                new BrokerTimes(
                        Duration.ofMillis(2),
                        Duration.ofMillis(4),
                        Duration.ofMillis(1),
                        connectLimit,
                        Duration.ofMillis(1)),
                nanos::get,
                meters);
    }
}
