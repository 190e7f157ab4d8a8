package dev.rimecast.ingest.mqtt;

import static dev.rimecast.ingest.mqtt.EndpointFixture.NOW;
import static dev.rimecast.ingest.mqtt.EndpointFixture.pack;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.intake.Intake;
import dev.rimecast.ingest.intake.LineDecoder;
import dev.rimecast.ingest.intake.Write;
import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.reading.RejectReason;
import java.io.EOFException;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;
import org.eclipse.paho.mqttv5.common.packet.UserProperty;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The endpoint with real clients and a store that the test answers for. Sections: MQTT 5.0 (OASIS, 2019). */
class GatewayEndpointIT {
    private EndpointFixture fixture;

    @BeforeEach
    void start() {
        fixture = new EndpointFixture();
    }

    @AfterEach
    void stop() {
        fixture.close();
    }

    @ParameterizedTest
    @ValueSource(booleans = {true, false})
    void receipts_whenTheStoreAnswersOutOfOrder_leaveInOrder(boolean is5) throws Exception {
        try (RawClient client = new RawClient(fixture.endpoint.port(), is5)) {
            assertThat(client.connect("c").body()[1]).isZero();
            for (int id = 1; id <= 3; id++) {
                client.publish(1, 100 + id, "fleet/gw-1/senml", pack(id));
            }
            await().until(() -> fixture.store.taken.size() == 3);
            for (int i = 2; i >= 0; i--) {
                fixture.store.taken.get(i).done().accept(true);
            }

            for (int id = 1; id <= 3; id++) {
                RawClient.Packet receipt = client.read();
                assertThat(receipt.header()).isEqualTo(RawClient.PUBACK);
                assertThat(receipt.body()[1]).isEqualTo((byte) (100 + id));
            }
        }
    }

    @Test
    void receipt_beforeTheStoreHasAnswered_isNotSent() throws Exception {
        MqttAsyncClient client = fixture.connected5("c");
        IMqttToken token = client.publish("fleet/gw-1/senml", pack(1), 1, false);
        await().until(() -> fixture.store.taken.size() == 1);
        assertThat(token.isComplete()).isFalse();

        fixture.store.taken.get(0).done().accept(true);
        token.waitForCompletion(5000);
        assertThat(token.getException()).isNull();
        client.disconnectForcibly(0, 100, false);
    }

    @Test
    void failedWrite_closesTheConnectionWithoutAReceipt_andIsNoLostGateway() throws Exception {
        try (RawClient client = new RawClient(fixture.endpoint.port(), true)) {
            client.connect("c");
            client.publish(1, 1, "fleet/gw-1/senml", pack(1));
            client.publish(1, 2, "fleet/gw-1/senml", pack(2));
            await().until(() -> fixture.store.taken.size() == 2);
            fixture.store.taken.get(1).done().accept(true);
            fixture.store.taken.get(0).done().accept(false);

            // 0x89: server busy, section 3.14.2.1.
            RawClient.Packet last = client.read();
            assertThat(last.header()).isEqualTo(RawClient.DISCONNECT);
            assertThat(last.body()[0]).isEqualTo((byte) 0x89);
            assertThatThrownBy(client::read).isInstanceOf(EOFException.class);
        }
        assertThat(fixture.store.taken).hasSize(2);
    }

    @Test
    void qos0_isStoredToo() throws Exception {
        MqttAsyncClient client = fixture.connected5("c");
        client.publish("fleet/gw-1/senml", pack(5), 0, false);
        await().until(() -> fixture.store.taken.size() == 1);
        assertThat(fixture.store.taken.get(0).decision().tally().stored()).isEqualTo(1);
        client.disconnect().waitForCompletion(5000);
    }

    @Test
    void qos2_ofVersion3_isReceivedReleasedAndCompleted() throws Exception {
        fixture.store.answeringAtOnce();
        var client = fixture.connected3("c", new MqttConnectOptions());
        client.publish("fleet/gw-1/senml", pack(5), 2, false).waitForCompletion(5000);
        assertThat(fixture.store.writes()).hasSize(1);
        client.disconnect().waitForCompletion(5000);
    }

    @Test
    void qos2_ofVersion5_isRefusedAsAnnounced() throws Exception {
        try (RawClient client = new RawClient(fixture.endpoint.port(), true)) {
            client.connect("c");
            client.publish(2, 1, "fleet/gw-1/senml", pack(1));
            // 0x9B: QoS not supported.
            assertThat(client.read().body()[0]).isEqualTo((byte) 0x9B);
        }
        assertThat(fixture.store.taken).isEmpty();
    }

    @Test
    void limits_areAnnouncedToVersion5() throws Exception {
        MqttAsyncClient client = fixture.client5("c");
        IMqttToken token = client.connect(new MqttConnectionOptions());
        token.waitForCompletion(5000);
        MqttProperties said = token.getResponseProperties();
        assertThat(said.getReceiveMaximum()).isEqualTo(100);
        assertThat(said.getMaximumQoS()).isEqualTo(1);
        assertThat(said.getMaximumPacketSize()).isEqualTo(262_144);
        client.disconnect().waitForCompletion(5000);
    }

    @Test
    void moreThanTheReceiveMaximum_isDisconnected() throws Exception {
        try (RawClient client = new RawClient(fixture.endpoint.port(), true)) {
            client.connect("c");
            for (int id = 1; id <= 101; id++) {
                client.publish(1, id, "fleet/gw-1/senml", pack(id));
            }
            // 0x93: receive maximum exceeded.
            assertThat(client.read().body()[0]).isEqualTo((byte) 0x93);
        }
        assertThat(fixture.store.taken).hasSize(100);
    }

    @Test
    void packetOverTheLimit_isDisconnected() throws Exception {
        try (RawClient client = new RawClient(fixture.endpoint.port(), true)) {
            client.connect("c");
            // The rest of it would meet a connection that is closed already.
            client.announce(1, "fleet/gw-1/senml", 300_000);
            // 0x95: packet too large.
            assertThat(client.read().body()[0]).isEqualTo((byte) 0x95);
        }
        assertThat(fixture.store.taken).isEmpty();
    }

    @Test
    void userProperties_becomeThePacksNumber() throws Exception {
        MqttAsyncClient client = fixture.connected5("c");
        MqttMessage message = new MqttMessage(pack(1), 1, false, null);
        MqttProperties properties = new MqttProperties();
        properties.setUserProperties(List.of(new UserProperty("boot", "b7"), new UserProperty("seq", "42")));
        message.setProperties(properties);
        client.publish("fleet/gw-1/senml", message);

        await().until(() -> fixture.store.writes().size() == 1);
        Write.ToSite write = (Write.ToSite) fixture.store.writes().get(0);
        assertThat(((SiteRecord.Pack) write.entry()).number()).contains(new PackNumber("b7", 42));
        client.disconnectForcibly(0, 100, false);
    }

    @Test
    void topics_thatAreNotTheirs_areRejectedAndAnswered() throws Exception {
        fixture.store.answeringAtOnce();
        try (RawClient client = new RawClient(fixture.endpoint.port(), true)) {
            client.connect("c");
            client.publish(1, 1, "fleet/gw-1/senml", pack(1));
            client.publish(1, 2, "weather/today", pack(2));
            client.publish(1, 3, "fleet/gw-2/senml", pack(3));
            client.publish(1, 4, "fleet/gw-1/senml", "!".getBytes(StandardCharsets.UTF_8));

            assertThat(client.read().body()).hasSize(2);
            // 0x90: topic name invalid, 0x87: not authorized, 0x99: payload format invalid; section 3.4.2.1.
            assertThat(client.read().body()[2]).isEqualTo((byte) 0x90);
            assertThat(client.read().body()[2]).isEqualTo((byte) 0x87);
            assertThat(client.read().body()[2]).isEqualTo((byte) 0x99);
        }
        assertThat(fixture.store.writes().stream()
                        .filter(w -> w instanceof Write.ToRejects)
                        .map(w -> ((Write.ToRejects) w).rejects().get(0).reason()))
                .containsExactly(RejectReason.BAD_TOPIC, RejectReason.TOPIC_OF_OTHER_GATEWAY, RejectReason.NOT_SENML);
    }

    @Test
    void topics_thatAreNotTheirs_areAcknowledgedPlainlyToVersion3() throws Exception {
        fixture.store.answeringAtOnce();
        try (RawClient client = new RawClient(fixture.endpoint.port(), false)) {
            client.connect("c");
            client.publish(1, 1, "weather/today", pack(1));
            assertThat(client.read().body()).containsExactly(0, 1);
        }
        assertThat(fixture.store.writes()).hasSize(1).first().isInstanceOf(Write.ToRejects.class);
    }

    @Test
    void subscription_toTheOwnAckTopicOnly_isGranted() throws Exception {
        var client = fixture.connected3("c", new MqttConnectOptions());
        var granted = client.subscribe(
                new String[] {"fleet/gw-1/ack", "fleet/gw-2/ack", "fleet/+/ack", "#", "fleet/gw-1/senml"},
                new int[] {1, 1, 1, 1, 1});
        granted.waitForCompletion(5000);
        assertThat(granted.getGrantedQos()).containsExactly(1, 0x80, 0x80, 0x80, 0x80);
        client.disconnect().waitForCompletion(5000);
    }

    @Test
    void acks_goToTheConnectionThatListens_theLastKnownAtOnce_andOnlyItsOwn() throws Exception {
        fixture.acks.note(ack("gw-1", 5));
        List<String> heard = new CopyOnWriteArrayList<>();
        var client = fixture.connected5("c");
        client.setCallback(new Heard(heard));
        client.subscribe("fleet/gw-1/ack", 1).waitForCompletion(5000);
        await().until(() -> heard.size() == 1);

        fixture.endpoint.tell(ack("gw-2", 99));
        fixture.endpoint.tell(ack("gw-1", 7));
        await().until(() -> heard.size() == 2);

        assertThat(heard)
                .containsExactly(
                        "fleet/gw-1/ack 1 {\"boot\":\"b1\",\"seq\":5}", "fleet/gw-1/ack 1 {\"boot\":\"b1\",\"seq\":7}");
        client.unsubscribe("fleet/gw-1/ack").waitForCompletion(5000);
        fixture.endpoint.tell(ack("gw-1", 8));
        fixture.endpoint.settle();
        client.disconnect().waitForCompletion(5000);
        assertThat(heard).hasSize(2);
    }

    @Test
    void acks_toAListenerThatDoesNotAnswer_areOneUnderWay_andThenTheNewest() throws Exception {
        try (RawClient client = new RawClient(fixture.endpoint.port(), false)) {
            client.connect("c");
            client.subscribe(1, "fleet/gw-1/ack", 1);
            assertThat(client.read().header() & 0xF0).as("SUBACK").isEqualTo(0x90);
            for (int seq = 1; seq <= 50; seq++) {
                fixture.endpoint.tell(ack("gw-1", seq));
            }
            RawClient.Packet first = client.read();
            assertThat(first.header()).as("PUBLISH, QoS 1").isEqualTo(0x32);
            assertThat(payload(first)).isEqualTo("{\"boot\":\"b1\",\"seq\":1}");
            client.acknowledge(packetId(first));
            assertThat(payload(client.read())).isEqualTo("{\"boot\":\"b1\",\"seq\":50}");
        }
    }

    /** Of a PUBLISH by MQTT 3.1.1, section 3.3: topic's length, topic, packet identifier, payload. */
    private static String payload(RawClient.Packet publish) {
        ByteBuffer body = ByteBuffer.wrap(publish.body());
        body.position(2 + body.getShort(0) + 2);
        return StandardCharsets.UTF_8.decode(body).toString();
    }

    private static int packetId(RawClient.Packet publish) {
        ByteBuffer body = ByteBuffer.wrap(publish.body());
        return body.getShort(2 + body.getShort(0));
    }

    private static GatewayAck ack(String gateway, long seq) {
        return new GatewayAck(gateway, new PackNumber("b1", seq), 0);
    }

    @Test
    void secondConnectionOfAClient_takesOver_andTheLostOneIsNoLostGateway() throws Exception {
        try (RawClient older = new RawClient(fixture.endpoint.port(), true);
                RawClient newer = new RawClient(fixture.endpoint.port(), true)) {
            older.connect("c");
            newer.connect("c");
            // 0x8E: session taken over.
            assertThat(older.read().body()[0]).isEqualTo((byte) 0x8E);
            assertThatThrownBy(older::read).isInstanceOf(EOFException.class);

            newer.publish(1, 1, "fleet/gw-1/senml", pack(1));
            await().until(() -> fixture.store.taken.size() == 1);
            fixture.store.taken.get(0).done().accept(true);
            assertThat(newer.read().header()).isEqualTo(RawClient.PUBACK);
            assertThat(fixture.endpoint.connections()).isEqualTo(1);
        }
    }

    @Test
    void will_ofALostGateway_isOffline_thatOfOneWhoSaysGoodbyeIsNot() throws Exception {
        fixture.store.answeringAtOnce();
        var polite = fixture.connected3("polite", will());
        polite.disconnect().waitForCompletion(5000);
        var lost = fixture.connected3("lost", will());
        lost.publish("fleet/gw-1/presence", "online".getBytes(StandardCharsets.UTF_8), 1, true)
                .waitForCompletion(5000);
        lost.disconnectForcibly(0, 0, false);

        await().until(() -> fixture.store.writes().size() == 2);
        assertThat(fixture.store.writes())
                .containsExactly(
                        new Write.ToSite("harbour", new SiteRecord.Presence(NOW, "gw-1", true)),
                        new Write.ToSite("harbour", new SiteRecord.Presence(NOW, "gw-1", false)));
    }

    @Test
    void will_withADelay_isForgottenWhenTheClientComesBackInTime() throws Exception {
        fixture.store.answeringAtOnce();
        MqttConnectionOptions options = new MqttConnectionOptions();
        MqttProperties willProperties = new MqttProperties();
        willProperties.setWillDelayInterval(1L);
        options.setWill(
                "fleet/gw-1/presence", new MqttMessage("offline".getBytes(StandardCharsets.UTF_8), 1, true, null));
        options.setWillMessageProperties(willProperties);
        MqttAsyncClient first = fixture.client5("c");
        first.connect(options).waitForCompletion(5000);
        first.disconnectForcibly(0, 0, false);
        await().until(() -> fixture.endpoint.connections() == 0);
        MqttAsyncClient second = fixture.client5("c");
        second.connect(options).waitForCompletion(5000);

        await().during(Duration.ofMillis(1500))
                .until(() -> fixture.store.writes().isEmpty());
        second.disconnectForcibly(0, 0, false);
        await().until(() -> fixture.store.writes().size() == 1);
    }

    @Test
    void will_aboutAnythingElse_isRefused() {
        MqttConnectOptions options = new MqttConnectOptions();
        options.setWill("fleet/gw-1/senml", "x".getBytes(StandardCharsets.UTF_8), 1, false);
        assertThatThrownBy(() -> fixture.connected3("c", options))
                .isInstanceOf(org.eclipse.paho.client.mqttv3.MqttException.class);
    }

    @Test
    void gateway_beforeTheRegisterIsKnown_isTurnedAway() throws Exception {
        fixture.register = Optional.empty();
        try (RawClient client = new RawClient(fixture.endpoint.port(), true);
                RawClient old = new RawClient(fixture.endpoint.port(), false)) {
            // 0x88: server unavailable; MQTT 3.1.1 section 3.2.2.3: 3.
            assertThat(client.connect("c").body()[1]).isEqualTo((byte) 0x88);
            assertThat(old.connect("d").body()[1]).isEqualTo((byte) 3);
        }
    }

    @Test
    void fullStore_stopsTheReading_untilThereIsRoom() throws Exception {
        fixture.store.answeringAtOnce();
        int messages = 5000;
        byte[] payload = new byte[2000];
        payload[0] = '!';
        try (RawClient client = new RawClient(fixture.endpoint.port(), false)) {
            client.connect("c");
            fixture.store.setFull(true);
            Thread sender = new Thread(() -> {
                for (int i = 1; i <= messages; i++) {
                    try {
                        client.publish(1, i, "fleet/gw-1/senml", payload);
                    } catch (IOException e) {
                        throw new UncheckedIOException(e);
                    }
                }
            });
            sender.start();
            // The first message finds the store full; nothing behind it is taken, and the sender gets stuck.
            await().during(Duration.ofMillis(500)).until(() -> fixture.store.taken.size() <= 1);
            assertThat(sender.isAlive()).isTrue();

            fixture.store.setFull(false);
            List<Integer> ids = new ArrayList<>();
            for (int i = 0; i < messages; i++) {
                byte[] body = client.read().body();
                ids.add(((body[0] & 0xff) << 8) | (body[1] & 0xff));
            }
            assertThat(ids).isSorted().hasSize(messages).doesNotHaveDuplicates();
            sender.join();
        }
        assertThat(fixture.store.taken).hasSize(messages);
    }

    @Test
    void gateway_thatSendsTooFast_isReadMoreSlowly_andLosesNothing() throws Exception {
        try (EndpointFixture slow = new EndpointFixture(100, 10);
                RawClient client = new RawClient(slow.endpoint.port(), false)) {
            slow.store.answeringAtOnce();
            client.connect("c");
            long start = System.nanoTime();
            for (int id = 1; id <= 60; id++) {
                client.publish(1, id, "fleet/gw-1/senml", pack(id));
            }
            for (int id = 1; id <= 60; id++) {
                assertThat(client.read().body()[1]).isEqualTo((byte) id);
            }
            // 10 at once, then 100 a second; the last one is taken when the debt of the 59 before it is paid.
            assertThat(Duration.ofNanos(System.nanoTime() - start)).isGreaterThan(Duration.ofMillis(450));
        }
    }

    @Test
    void keepAlive_isNotHeldAgainstAGatewayThatIsNotRead() throws Exception {
        fixture.store.setFull(true);
        try (RawClient client = new RawClient(fixture.endpoint.port(), false)) {
            client.connect("c", 1);
            await().during(Duration.ofSeconds(3)).until(() -> fixture.endpoint.connections() == 1);
        }
    }

    @Test
    void gateway_thatIsSilentForLongerThanItsKeepAlive_isClosed() throws Exception {
        try (RawClient client = new RawClient(fixture.endpoint.port(), false)) {
            client.connect("c", 1);
            // [MQTT-3.1.2-22]: one and a half times the keep-alive.
            assertThatThrownBy(client::read).isInstanceOf(EOFException.class);
        }
    }

    @Test
    void address_thatOthersCanReach_isRefused() {
        assertThatThrownBy(() -> GatewayEndpoint.start(
                        new Listen("0.0.0.0", 0, 1, 1),
                        new Desk(new Intake(new LineDecoder()), Optional::empty, () -> NOW),
                        fixture.store,
                        fixture.acks))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("0.0.0.0")
                .hasMessageContaining("credentials");
    }

    @Test
    void port_thatIsTaken_failsTheStart() {
        assertThatThrownBy(() -> GatewayEndpoint.start(
                        new Listen("127.0.0.1", fixture.endpoint.port(), 1, 1),
                        new Desk(new Intake(new LineDecoder()), Optional::empty, () -> NOW),
                        fixture.store,
                        fixture.acks))
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining(String.valueOf(fixture.endpoint.port()));
    }

    private static MqttConnectOptions will() {
        MqttConnectOptions options = new MqttConnectOptions();
        options.setWill("fleet/gw-1/presence", "offline".getBytes(StandardCharsets.UTF_8), 1, true);
        return options;
    }
}
