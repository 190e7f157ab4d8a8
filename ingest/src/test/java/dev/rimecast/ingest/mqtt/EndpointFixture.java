package dev.rimecast.ingest.mqtt;

import dev.rimecast.ingest.ack.LastAcks;
import dev.rimecast.ingest.intake.Intake;
import dev.rimecast.ingest.intake.LineDecoder;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;

/** An endpoint on a free port with a store that the test answers for, and clients of both versions. */
final class EndpointFixture implements AutoCloseable {
    static final Instant NOW = Instant.parse("2026-05-04T12:00:00Z");
    static final Register REGISTER = new Register(
            List.of(Machine.basic("ice-1", "harbour", "gw-1"), Machine.basic("ice-2", "harbour", "gw-1")), List.of());

    final HandStore store = new HandStore();
    final LastAcks acks = new LastAcks();
    final GatewayEndpoint endpoint;
    volatile Optional<Register> register = Optional.of(REGISTER);

    EndpointFixture() {
        this(Double.POSITIVE_INFINITY, 1);
    }

    EndpointFixture(double packsPerSecond, double burst) {
        this(packsPerSecond, burst, ConnectionLimits.STANDARD);
    }

    EndpointFixture(double packsPerSecond, double burst, ConnectionLimits limits) {
        endpoint = GatewayEndpoint.start(
                List.of(new Listen("127.0.0.1", 0, packsPerSecond, burst)),
                new Desk(new Intake(new LineDecoder()), () -> register, () -> NOW),
                store,
                acks,
                Gatekeeper.withoutKeys(),
                limits);
    }

    /** A pack with one good reading; {@code n} makes it tell-tale. */
    static byte[] pack(int n) {
        return LineDecoder.line("ice-1", Channel.EVAPORATOR_TEMPERATURE, NOW, n).getBytes(StandardCharsets.UTF_8);
    }

    MqttAsyncClient client5(String id) throws MqttException {
        return new MqttAsyncClient("tcp://127.0.0.1:" + endpoint.port(), id, new MemoryPersistence());
    }

    MqttAsyncClient connected5(String id) throws MqttException {
        MqttAsyncClient client = client5(id);
        client.connect(new MqttConnectionOptions()).waitForCompletion(5000);
        return client;
    }

    org.eclipse.paho.client.mqttv3.MqttAsyncClient connected3(String id, MqttConnectOptions options)
            throws org.eclipse.paho.client.mqttv3.MqttException {
        var client = new org.eclipse.paho.client.mqttv3.MqttAsyncClient(
                "tcp://127.0.0.1:" + endpoint.port(),
                id,
                new org.eclipse.paho.client.mqttv3.persist.MemoryPersistence());
        options.setMqttVersion(MqttConnectOptions.MQTT_VERSION_3_1_1);
        client.connect(options).waitForCompletion(5000);
        return client;
    }

    @Override
    public void close() {
        endpoint.turnAway();
        endpoint.close();
    }
}
