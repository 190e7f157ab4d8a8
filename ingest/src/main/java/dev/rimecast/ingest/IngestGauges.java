package dev.rimecast.ingest;

import dev.rimecast.ingest.broker.BrokerHealth;
import dev.rimecast.ingest.disk.DiskGuard;
import dev.rimecast.ingest.kafka.LogWriter;
import dev.rimecast.telemetry.machine.Register;
import io.micrometer.core.instrument.FunctionCounter;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.function.ToDoubleFunction;

/** How ingest is at the moment of the scrape; what it has done is counted where it is done. */
final class IngestGauges {
    private final MeterRegistry meters;
    private final IngestStage stage;

    IngestGauges(MeterRegistry meters, IngestStage stage) {
        this.meters = meters;
        this.stage = stage;
    }

    void writer(LogWriter writer) {
        gauge("in.flight.packs", "Messages that Kafka has not confirmed yet", of -> writer.messagesInFlight());
        gauge("in.flight.bytes", "Bytes that Kafka has not confirmed yet", of -> writer.bytesInFlight());
        gauge("holding.back", "1 while nothing is read because Kafka is behind, else 0", of -> writer.isFull() ? 1 : 0);
        gauge(
                "stalled.seconds",
                "How long Kafka has confirmed nothing although something waits",
                of -> writer.stalledFor().toMillis() / 1e3);
    }

    /** What is not there at an instance that subscribes to a broker only is 0. */
    void connections(
            ToDoubleFunction<IngestStage> now,
            ToDoubleFunction<IngestStage> refused,
            ToDoubleFunction<IngestStage> overLimit) {
        gauge("connections", "Connections of gateways to the own endpoint", now);
        FunctionCounter.builder("rimecast.ingest.connections.refused", stage, refused)
                .description("Connections that showed no key, or a wrong one")
                .register(meters);
        FunctionCounter.builder("rimecast.ingest.connections.over.limit", stage, overLimit)
                .description("Connections that were ended because their gateway or address had too many")
                .register(meters);
    }

    void disk(DiskGuard guard) {
        gauge(
                "disk.closed",
                "1 while nothing is taken in because the disk is nearly full, else 0",
                of -> guard.isClosed() ? 1 : 0);
    }

    /** Without one there is nothing to connect to, and no gauge. */
    void broker(Optional<Supplier<BrokerHealth>> broker) {
        broker.ifPresent(health -> gauge(
                "broker.connected",
                "1 while the MQTT broker is there and our subscriptions are granted, else 0",
                of -> health.get().isConnected() ? 1 : 0));
    }

    void register(Supplier<Optional<Register>> inForce) {
        gauge(
                "register.machines",
                "Machines in the register in force; 0 until it has been read",
                of -> inForce.get().map(register -> register.machines().size()).orElse(0));
    }

    private void gauge(String name, String description, ToDoubleFunction<IngestStage> value) {
        Gauge.builder("rimecast.ingest." + name, stage, value)
                .description(description)
                .register(meters);
    }
}
