package dev.rimecast.ingest.mqtt;

import static dev.rimecast.ingest.mqtt.EndpointFixture.pack;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;
import org.junit.jupiter.api.Test;

/** What the endpoint takes at a time: announced limits, a full store, gateways that are too fast. Sections: MQTT 5.0 (OASIS, 2019). */
class GatewayLimitsIT extends EndpointBench {
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
}
