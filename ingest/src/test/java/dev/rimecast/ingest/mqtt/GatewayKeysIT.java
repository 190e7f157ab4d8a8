package dev.rimecast.ingest.mqtt;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.ack.LastAcks;
import dev.rimecast.ingest.intake.Intake;
import dev.rimecast.ingest.intake.LineDecoder;
import dev.rimecast.ingest.intake.Write;
import dev.rimecast.telemetry.gateway.GatewayKey;
import dev.rimecast.telemetry.gateway.GatewayKey.Kind;
import dev.rimecast.telemetry.machine.Register;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLSocket;
import org.assertj.core.api.ThrowableAssert.ThrowingCallable;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;
import org.eclipse.paho.mqttv5.common.packet.MqttReturnCode;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Gateways that show keys, over TLS from anywhere and in the clear from this machine. */
class GatewayKeysIT {
    private static final String SECRET = "uE3q-0fYzH2s9cXvJpLw7bTn4kRaMd8gQ1oVi6yZxCh";
    private static final String OTHER_SECRET = "aK8d-3mWqT5r1bNvGhJs6yXc9zLePf2uQ7oRi4tYkDn";

    @TempDir
    static Path directory;

    private static TestCertificate server;
    private static TestCertificate own;
    private static TestCertificate stranger;
    private static TestCertificate old;

    private final AtomicReference<Instant> now = new AtomicReference<>(EndpointFixture.NOW);
    private final Gatekeeper gatekeeper = Gatekeeper.waiting(now::get);
    private final HandStore store = new HandStore().answeringAtOnce();
    private GatewayEndpoint endpoint;

    @BeforeAll
    static void certificates() throws Exception {
        server = TestCertificate.make(directory, "server");
        own = TestCertificate.make(directory, "gw-1");
        stranger = TestCertificate.make(directory, "stranger");
        old = TestCertificate.make(directory, "old", "-startdate", "-400d", "-validity", "10");
    }

    @BeforeEach
    void start() throws Exception {
        gatekeeper.inForce(Map.of(
                "gw-1",
                List.of(secret(SECRET), certificate(own), certificate(old)),
                "gw-2",
                List.of(secret(OTHER_SECRET))));
        endpoint = GatewayEndpoint.start(
                List.of(
                        new Listen("127.0.0.1", 0, 1000, 1000),
                        new Listen(
                                "127.0.0.1",
                                0,
                                1000,
                                1000,
                                Optional.of(new Listen.Tls(server.certificate(), server.key(), false)))),
                new Desk(new Intake(new LineDecoder()), () -> Optional.of(Register.EMPTY), now::get),
                store,
                new LastAcks(),
                gatekeeper);
    }

    @AfterEach
    void stop() {
        endpoint.turnAway();
        endpoint.close();
    }

    private static GatewayKey secret(String text) {
        return new GatewayKey(Kind.SECRET, GatewayKey.digest(text), Optional.empty());
    }

    private static GatewayKey certificate(TestCertificate of) throws Exception {
        return new GatewayKey(Kind.CERTIFICATE, of.digest(), Optional.empty());
    }

    private MqttAsyncClient secure(String clientId, SSLContext tls, String user, String password) throws Exception {
        MqttAsyncClient client =
                new MqttAsyncClient("ssl://localhost:" + endpoint.ports().get(1), clientId, new MemoryPersistence());
        client.connect(options(user, password, Optional.of(tls))).waitForCompletion(10_000);
        return client;
    }

    private MqttAsyncClient clear(String clientId, String user, String password) throws Exception {
        MqttAsyncClient client =
                new MqttAsyncClient("tcp://127.0.0.1:" + endpoint.port(), clientId, new MemoryPersistence());
        client.connect(options(user, password, Optional.empty())).waitForCompletion(10_000);
        return client;
    }

    private static MqttConnectionOptions options(String user, String password, Optional<SSLContext> tls) {
        MqttConnectionOptions options = new MqttConnectionOptions();
        tls.ifPresent(context -> options.setSocketFactory(context.getSocketFactory()));
        if (!user.isEmpty()) {
            options.setUserName(user);
        }
        if (!password.isEmpty()) {
            options.setPassword(password.getBytes(StandardCharsets.UTF_8));
        }
        return options;
    }

    private static int receipt(MqttAsyncClient client, String gateway) throws MqttException {
        var token = client.publish("fleet/" + gateway + "/senml", EndpointFixture.pack(1), 1, false);
        token.waitForCompletion(10_000);
        return token.getReasonCodes()[0];
    }

    private static void assertRefused(ThrowingCallable connecting) {
        assertThatThrownBy(connecting)
                .isInstanceOfSatisfying(
                        MqttException.class,
                        e -> assertThat(e.getReasonCode())
                                .isEqualTo(MqttReturnCode.RETURN_CODE_BAD_USERNAME_OR_PASSWORD));
    }

    @Test
    void secretOverTls_letsInForItsGateway_andForNoOther() throws Exception {
        MqttAsyncClient client = secure("c", server.trusted(), "gw-1", SECRET);
        assertThat(receipt(client, "gw-1")).isEqualTo(MqttReturnCode.RETURN_CODE_SUCCESS);
        assertThat(receipt(client, "gw-2")).isEqualTo(MqttReturnCode.RETURN_CODE_NOT_AUTHORIZED);
        assertThat(receipt(client, "gw-3"))
                .as("also where that gateway has no keys")
                .isEqualTo(MqttReturnCode.RETURN_CODE_NOT_AUTHORIZED);
        assertThat(store.writes()).filteredOn(Write.ToRejects.class::isInstance).hasSize(2);
        client.disconnect().waitForCompletion(5000);
    }

    @Test
    void certificate_letsIn_withoutAnyPassword() throws Exception {
        MqttAsyncClient client = secure("c", own.showingItselfTo(server), "", "");
        assertThat(receipt(client, "gw-1")).isEqualTo(MqttReturnCode.RETURN_CODE_SUCCESS);
        assertThat(receipt(client, "gw-2")).isEqualTo(MqttReturnCode.RETURN_CODE_NOT_AUTHORIZED);
        client.disconnect().waitForCompletion(5000);
    }

    @Test
    void whoeverShowsNothingOrSomethingWrong_isRefused_andCounted() throws Exception {
        assertRefused(() -> secure("c", server.trusted(), "", ""));
        assertRefused(() -> secure("c", server.trusted(), "gw-1", OTHER_SECRET));
        assertRefused(() -> secure("c", server.trusted(), "gw-9", SECRET));
        assertRefused(() -> secure("c", server.trusted(), "gw-1", ""));
        assertRefused(() -> secure("c", stranger.showingItselfTo(server), "", ""));
        assertRefused(() -> secure("c", own.showingItselfTo(server), "gw-2", ""));
        assertThat(endpoint.refusals()).isEqualTo(6);
        assertThat(endpoint.connections()).isZero();
    }

    @Test
    void certificateThatIsOutOfDate_doesNotGetThroughTheHandshake() {
        assertThatThrownBy(() -> secure("c", old.showingItselfTo(server), "", ""))
                .isInstanceOf(MqttException.class);
        assertThat(endpoint.connections()).isZero();
    }

    @Test
    void fromThisMachine_gatewaysWithoutKeysAreLetIn_thoseWithKeysMustShowOne() throws Exception {
        MqttAsyncClient unproved = clear("c", "", "");
        assertThat(receipt(unproved, "gw-1")).isEqualTo(MqttReturnCode.RETURN_CODE_NOT_AUTHORIZED);
        assertThat(receipt(unproved, "gw-3")).isEqualTo(MqttReturnCode.RETURN_CODE_SUCCESS);
        unproved.disconnect().waitForCompletion(5000);

        MqttAsyncClient proved = clear("c", "gw-1", SECRET);
        assertThat(receipt(proved, "gw-1")).isEqualTo(MqttReturnCode.RETURN_CODE_SUCCESS);
        proved.disconnect().waitForCompletion(5000);
        assertRefused(() -> clear("c", "gw-1", OTHER_SECRET));
    }

    @Test
    void keyThatIsRevoked_closesItsConnection_andAnotherKeyOfTheGatewayStays() throws Exception {
        MqttAsyncClient bySecret = secure("a", server.trusted(), "gw-1", SECRET);
        MqttAsyncClient byCertificate = secure("b", own.showingItselfTo(server), "", "");
        MqttAsyncClient otherGateway = secure("c", server.trusted(), "gw-2", OTHER_SECRET);

        gatekeeper.inForce(Map.of(
                "gw-1", List.of(certificate(own)),
                "gw-2", List.of(secret(OTHER_SECRET))));
        endpoint.keysChanged();

        await().until(() -> !bySecret.isConnected());
        assertThat(receipt(byCertificate, "gw-1")).isEqualTo(MqttReturnCode.RETURN_CODE_SUCCESS);
        assertThat(receipt(otherGateway, "gw-2")).isEqualTo(MqttReturnCode.RETURN_CODE_SUCCESS);
        assertRefused(() -> secure("a", server.trusted(), "gw-1", SECRET));

        gatekeeper.inForce(Map.of("gw-1", List.of(), "gw-2", List.of(secret(OTHER_SECRET))));
        endpoint.keysChanged();
        await().until(() -> !byCertificate.isConnected());
        MqttAsyncClient unproved = clear("d", "", "");
        assertThat(receipt(unproved, "gw-1"))
                .as("a gateway all of whose keys are revoked is nobody's")
                .isEqualTo(MqttReturnCode.RETURN_CODE_NOT_AUTHORIZED);
        unproved.disconnect().waitForCompletion(5000);
        otherGateway.disconnect().waitForCompletion(5000);
    }

    @Test
    void keyThatEnds_isNoneAnyMore() throws Exception {
        gatekeeper.inForce(Map.of(
                "gw-1",
                List.of(new GatewayKey(
                        Kind.SECRET, GatewayKey.digest(SECRET), Optional.of(EndpointFixture.NOW.plusSeconds(60))))));
        MqttAsyncClient client = secure("a", server.trusted(), "gw-1", SECRET);
        now.set(EndpointFixture.NOW.plusSeconds(61));
        endpoint.keysChanged();
        await().until(() -> !client.isConnected());
        assertRefused(() -> secure("a", server.trusted(), "gw-1", SECRET));
    }

    /** A client identifier is no key: who takes that of another does not end the other's connection. */
    @Test
    void clientIdentifierOfAnotherGateway_takesNothingOver() throws Exception {
        MqttAsyncClient first = secure("same", server.trusted(), "gw-1", SECRET);
        MqttAsyncClient second = secure("same", server.trusted(), "gw-2", OTHER_SECRET);
        assertThat(receipt(first, "gw-1")).isEqualTo(MqttReturnCode.RETURN_CODE_SUCCESS);
        assertThat(receipt(second, "gw-2")).isEqualTo(MqttReturnCode.RETURN_CODE_SUCCESS);
        assertThat(endpoint.connections()).isEqualTo(2);
        first.disconnect().waitForCompletion(5000);
        second.disconnect().waitForCompletion(5000);
    }

    /** 30 packs at 20 a second after a burst of 10 take a second, also over two connections; with a rate each, half of that. */
    @Test
    void rate_isOneForAllConnectionsOfAGateway() throws Exception {
        GatewayEndpoint slow = GatewayEndpoint.start(
                List.of(new Listen("127.0.0.1", 0, 20, 10)),
                new Desk(new Intake(new LineDecoder()), () -> Optional.of(Register.EMPTY), now::get),
                store,
                new LastAcks(),
                gatekeeper);
        try {
            List<MqttAsyncClient> clients = new ArrayList<>();
            for (String id : List.of("a", "b")) {
                MqttAsyncClient client =
                        new MqttAsyncClient("tcp://127.0.0.1:" + slow.port(), id, new MemoryPersistence());
                client.connect(options("gw-1", SECRET, Optional.empty())).waitForCompletion(10_000);
                clients.add(client);
            }
            long start = System.nanoTime();
            for (int i = 0; i < 30; i++) {
                receipt(clients.get(i % 2), "gw-1");
            }
            assertThat(Duration.ofNanos(System.nanoTime() - start)).isGreaterThan(Duration.ofMillis(900));
        } finally {
            slow.turnAway();
            slow.close();
        }
    }

    /** Else a gateway could have it said of another that it is gone. */
    @Test
    void willOfAnotherGateway_isRefused() {
        MqttConnectionOptions options = options("gw-1", SECRET, Optional.empty());
        options.setWill(
                "fleet/gw-2/presence",
                new MqttMessage("offline".getBytes(StandardCharsets.UTF_8), 1, false, new MqttProperties()));
        assertThatThrownBy(() -> new MqttAsyncClient("tcp://127.0.0.1:" + endpoint.port(), "w", new MemoryPersistence())
                        .connect(options)
                        .waitForCompletion(10_000))
                .isInstanceOfSatisfying(
                        MqttException.class,
                        e -> assertThat(e.getReasonCode()).isEqualTo(MqttReturnCode.RETURN_CODE_TOPIC_NAME_INVALID));
    }

    /** RFC 8446 is 1.3; 1.2 is spoken where the configuration says so. */
    @Test
    void tls12_isRefused_unlessAllowed() throws Exception {
        try (SSLSocket socket = (SSLSocket) server.trusted()
                .getSocketFactory()
                .createSocket("127.0.0.1", endpoint.ports().get(1))) {
            socket.setEnabledProtocols(new String[] {"TLSv1.2"});
            assertThatThrownBy(socket::startHandshake).hasMessageContaining("protocol_version");
        }
        try (SSLSocket socket = (SSLSocket) server.trusted()
                .getSocketFactory()
                .createSocket("127.0.0.1", endpoint.ports().get(1))) {
            socket.startHandshake();
            assertThat(socket.getSession().getProtocol()).isEqualTo("TLSv1.3");
        }
    }

    @Test
    void beforeTheKeysAreKnown_nobodyIsLetIn() throws Exception {
        GatewayEndpoint early = GatewayEndpoint.start(
                List.of(new Listen("127.0.0.1", 0, 1000, 1000)),
                new Desk(new Intake(new LineDecoder()), () -> Optional.of(Register.EMPTY), now::get),
                store,
                new LastAcks(),
                Gatekeeper.waiting(now::get));
        try {
            assertThatThrownBy(
                            () -> new MqttAsyncClient("tcp://127.0.0.1:" + early.port(), "e", new MemoryPersistence())
                                    .connect(new MqttConnectionOptions())
                                    .waitForCompletion(10_000))
                    .isInstanceOfSatisfying(
                            MqttException.class,
                            e -> assertThat(e.getReasonCode())
                                    .isEqualTo(MqttReturnCode.RETURN_CODE_SERVER_UNAVAILABLE));
        } finally {
            early.turnAway();
            early.close();
        }
    }

    @Test
    void certificateFilesThatAreNone_failTheStart_namingThem() throws Exception {
        Path wrong = Files.writeString(directory.resolve("wrong.key"), "no key");
        assertThatThrownBy(() -> GatewayEndpoint.start(
                        List.of(new Listen(
                                "127.0.0.1", 0, 1, 1, Optional.of(new Listen.Tls(server.certificate(), wrong, false)))),
                        new Desk(new Intake(new LineDecoder()), Optional::empty, now::get),
                        store,
                        new LastAcks(),
                        gatekeeper))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining(wrong.toString())
                .hasMessageContaining("PKCS 8");
    }
}
