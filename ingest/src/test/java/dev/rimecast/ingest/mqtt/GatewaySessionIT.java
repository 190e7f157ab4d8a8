package dev.rimecast.ingest.mqtt;

import static dev.rimecast.ingest.mqtt.EndpointFixture.NOW;
import static dev.rimecast.ingest.mqtt.EndpointFixture.pack;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.intake.Intake;
import dev.rimecast.ingest.intake.LineDecoder;
import dev.rimecast.ingest.intake.Write;
import dev.rimecast.telemetry.log.SiteRecord;
import java.io.EOFException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;
import org.junit.jupiter.api.Test;

/** How connections of gateways begin and end: refused, taken over, lost, silent. Sections: MQTT 5.0 (OASIS, 2019). */
class GatewaySessionIT extends EndpointBench {
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
                        List.of(new Listen("0.0.0.0", 0, 1, 1)),
                        new Desk(new Intake(new LineDecoder()), Optional::empty, () -> NOW),
                        fixture.store,
                        fixture.acks,
                        Gatekeeper.withoutKeys()))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("0.0.0.0")
                .hasMessageContaining("TLS");
    }

    @Test
    void port_thatIsTaken_failsTheStart() {
        assertThatThrownBy(() -> GatewayEndpoint.start(
                        List.of(new Listen("127.0.0.1", fixture.endpoint.port(), 1, 1)),
                        new Desk(new Intake(new LineDecoder()), Optional::empty, () -> NOW),
                        fixture.store,
                        fixture.acks,
                        Gatekeeper.withoutKeys()))
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining(String.valueOf(fixture.endpoint.port()));
    }

    private static MqttConnectOptions will() {
        MqttConnectOptions options = new MqttConnectOptions();
        options.setWill("fleet/gw-1/presence", "offline".getBytes(StandardCharsets.UTF_8), 1, true);
        return options;
    }
}
