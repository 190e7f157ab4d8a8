package dev.rimecast.ingest.mqtt;

import static dev.rimecast.ingest.mqtt.EndpointFixture.pack;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.intake.Write;
import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.log.SiteRecord;
import java.io.EOFException;
import java.util.List;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;
import org.eclipse.paho.mqttv5.common.packet.UserProperty;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Receipts and qualities of service at the endpoint, with real clients and a store that the test answers for. Sections: MQTT 5.0 (OASIS, 2019). */
class GatewayReceiptsIT extends EndpointBench {
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
}
