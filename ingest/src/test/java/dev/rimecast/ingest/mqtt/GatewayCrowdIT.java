package dev.rimecast.ingest.mqtt;

import static dev.rimecast.ingest.mqtt.EndpointFixture.pack;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.ack.LastAcks;
import dev.rimecast.ingest.intake.Intake;
import dev.rimecast.ingest.intake.LineDecoder;
import dev.rimecast.telemetry.gateway.GatewayKey;
import dev.rimecast.telemetry.machine.Register;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import javax.net.ssl.SSLSocket;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** How many connections there may be of one address and of one gateway, and what becomes of those that never say who they are. */
class GatewayCrowdIT {
    private static final String SECRET = "uE3q-0fYzH2s9cXvJpLw7bTn4kRaMd8gQ1oVi6yZxCh";
    private static final byte QUOTA_EXCEEDED = (byte) 0x97; // MQTT 5.0, 2.4

    @TempDir
    static Path directory;

    @Test
    void oneTooManyOfAnAddress_isClosedUnread_countsAndFindsRoomAgain() throws Exception {
        try (EndpointFixture fixture = new EndpointFixture(Double.POSITIVE_INFINITY, 1, new ConnectionLimits(0, 3))) {
            List<RawClient> silent = new ArrayList<>();
            for (int i = 0; i < 3; i++) {
                silent.add(new RawClient(fixture.endpoint.port(), true));
            }
            try (RawClient fourth = new RawClient(fixture.endpoint.port(), true)) {
                assertThatThrownBy(() -> fourth.connect("d"))
                        .as("no CONNACK: it is not even listened to")
                        .isInstanceOf(IOException.class);
            }
            assertThat(fixture.endpoint.overLimit()).isEqualTo(1);
            assertThat(silent.get(1).connect("b").body()[1])
                    .as("who was there stays")
                    .isZero();

            silent.get(0).close();
            await().untilAsserted(() -> {
                try (RawClient next = new RawClient(fixture.endpoint.port(), true)) {
                    assertThat(next.connect("e").body()[1]).isZero();
                }
            });
            for (RawClient client : silent) {
                client.close();
            }
            await().until(() -> fixture.endpoint.addresses() == 0);
        }
    }

    /** By name alone, as gateways without keys are known: the oldest gives way, so that what a broken line left behind shuts nobody out. */
    @Test
    void oneTooManyOfAGateway_endsItsOldest_andNoOthers() throws Exception {
        try (EndpointFixture fixture = new EndpointFixture(Double.POSITIVE_INFINITY, 1, new ConnectionLimits(2, 0));
                RawClient other = new RawClient(fixture.endpoint.port(), true);
                RawClient first = new RawClient(fixture.endpoint.port(), true);
                RawClient second = new RawClient(fixture.endpoint.port(), true);
                RawClient third = new RawClient(fixture.endpoint.port(), true)) {
            fixture.store.answeringAtOnce();
            other.connect("o");
            sends(other, "gw-2");
            int n = 0;
            for (RawClient client : List.of(first, second, third)) {
                client.connect("c" + n++);
                sends(client, "gw-1");
            }
            RawClient.Packet end = first.read();
            assertThat(end.header()).isEqualTo(RawClient.DISCONNECT);
            assertThat(end.body()[0]).isEqualTo(QUOTA_EXCEEDED);
            sends(second, "gw-1");
            sends(third, "gw-1");
            sends(other, "gw-2");
            assertThat(fixture.endpoint.overLimit()).isEqualTo(1);
            assertThat(fixture.endpoint.connections()).isEqualTo(3);
        }
    }

    private static void sends(RawClient client, String gateway) throws IOException {
        client.publish(1, 1, "fleet/" + gateway + "/senml", pack(1));
        assertThat(client.read().header()).isEqualTo(RawClient.PUBACK);
    }

    @Test
    void gatewayWithAKey_isCountedFromItsConnectOn() throws Exception {
        Gatekeeper gatekeeper = Gatekeeper.waiting(() -> EndpointFixture.NOW);
        gatekeeper.inForce(Map.of(
                "gw-1", List.of(new GatewayKey(GatewayKey.Kind.SECRET, GatewayKey.digest(SECRET), Optional.empty()))));
        try (Running endpoint = running(List.of(new Listen("127.0.0.1", 0, 1000, 1000)), gatekeeper)) {
            List<MqttAsyncClient> clients = new ArrayList<>();
            for (String id : List.of("a", "b", "c")) {
                MqttAsyncClient client =
                        new MqttAsyncClient("tcp://127.0.0.1:" + endpoint.is().port(), id, new MemoryPersistence());
                MqttConnectionOptions options = new MqttConnectionOptions();
                options.setUserName("gw-1");
                options.setPassword(SECRET.getBytes(StandardCharsets.UTF_8));
                client.connect(options).waitForCompletion(10_000);
                clients.add(client);
            }
            await().until(() -> !clients.get(0).isConnected());
            assertThat(clients.get(1).isConnected()).isTrue();
            assertThat(clients.get(2).isConnected()).isTrue();
            assertThat(endpoint.is().overLimit()).isEqualTo(1);
            for (MqttAsyncClient client : clients) {
                client.disconnectForcibly(0, 0, false);
            }
        }
    }

    /** In the clear; over TLS before the handshake; and after it. Each would hold a place for ever. */
    @Test
    void whoNeverSaysConnect_isClosed() throws Exception {
        TestCertificate server = TestCertificate.make(directory, "server");
        Listen secure = new Listen(
                "127.0.0.1", 0, 1000, 1000, Optional.of(new Listen.Tls(server.certificate(), server.key(), false)));
        try (Running endpoint = running(
                        List.of(new Listen("127.0.0.1", 0, 1000, 1000), secure),
                        Gatekeeper.waiting(() -> EndpointFixture.NOW));
                RawClient clear = new RawClient(endpoint.is().ports().get(0), true);
                RawClient noHandshake = new RawClient(endpoint.is().ports().get(1), true);
                SSLSocket shaken = (SSLSocket) server.trusted()
                        .getSocketFactory()
                        .createSocket("127.0.0.1", endpoint.is().ports().get(1))) {
            shaken.startHandshake();
            assertThat(endpoint.is().addresses()).isEqualTo(1);
            await().until(() -> endpoint.is().addresses() == 0);
            assertThatThrownBy(clear::read).isInstanceOf(IOException.class);
            assertThatThrownBy(noHandshake::read).isInstanceOf(IOException.class);
            assertThat(shaken.getInputStream().read()).isEqualTo(-1);
        }
    }

    private record Running(GatewayEndpoint is) implements AutoCloseable {
        @Override
        public void close() {
            is.turnAway();
            is.close();
        }
    }

    private static Running running(List<Listen> listens, Gatekeeper gatekeeper) {
        return new Running(GatewayEndpoint.start(
                listens,
                new Desk(new Intake(new LineDecoder()), () -> Optional.of(Register.EMPTY), () -> EndpointFixture.NOW),
                new HandStore().answeringAtOnce(),
                new LastAcks(),
                gatekeeper,
                new ConnectionLimits(2, 100)));
    }
}
