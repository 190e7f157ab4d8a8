package dev.rimecast.ingest.broker;

import dev.rimecast.ingest.intake.LineDecoder;
import dev.rimecast.ingest.mqtt.PackNumbers;
import dev.rimecast.telemetry.machine.Channel;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;

/** A line that does what the test says. */
final class HandLine implements Line {
    static final Instant NOW = Instant.parse("2026-05-04T12:00:00Z");

    /** What was published here; the test says when it has arrived. */
    record Published(String topic, String payload, Runnable done) {}

    final List<Published> published = new CopyOnWriteArrayList<>();
    final Listener listener;
    final List<Integer> acknowledged = new CopyOnWriteArrayList<>();
    volatile boolean isDropped;
    volatile boolean hasLeft;

    HandLine(Listener listener) {
        this.listener = listener;
    }

    /** A pack of gateway gw-1 with one reading, QoS 1. */
    void brings(int packetId) {
        brings(
                "fleet/gw-1/senml",
                1,
                packetId,
                LineDecoder.line("ice-1", Channel.EVAPORATOR_TEMPERATURE, NOW, packetId));
    }

    void brings(String topic, int qos, int packetId, String payload) {
        listener.arrived(new Arrival(
                topic,
                payload.getBytes(StandardCharsets.UTF_8),
                qos,
                packetId,
                new PackNumbers.Result(Optional.empty(), Optional.empty())));
    }

    @Override
    public void acknowledge(int packetId) {
        acknowledged.add(packetId);
    }

    @Override
    public void publish(String topic, byte[] payload, Runnable done) {
        published.add(new Published(topic, new String(payload, StandardCharsets.UTF_8), done));
    }

    @Override
    public void drop() {
        isDropped = true;
    }

    @Override
    public void leave() {
        hasLeft = true;
    }
}
