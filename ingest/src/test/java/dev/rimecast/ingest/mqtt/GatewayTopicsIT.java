package dev.rimecast.ingest.mqtt;

import static dev.rimecast.ingest.mqtt.EndpointFixture.pack;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.intake.Write;
import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.reading.RejectReason;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.junit.jupiter.api.Test;

/** What a gateway may publish and subscribe to, and the acknowledgements that it is sent. Sections: MQTT 5.0 (OASIS, 2019). */
class GatewayTopicsIT extends EndpointBench {
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
            // All of them have been told before the first is answered.
            fixture.endpoint.settle();
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
}
