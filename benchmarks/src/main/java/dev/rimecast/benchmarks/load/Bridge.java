package dev.rimecast.benchmarks.load;

import io.netty.handler.codec.mqtt.MqttProperties;
import io.vertx.core.Context;
import io.vertx.core.Vertx;
import io.vertx.core.VertxOptions;
import io.vertx.mqtt.MqttEndpoint;
import io.vertx.mqtt.MqttServer;
import io.vertx.mqtt.MqttServerOptions;
import io.vertx.mqtt.messages.MqttPublishMessage;
import io.vertx.mqtt.messages.codes.MqttPubAckReasonCode;
import java.util.ArrayDeque;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.apache.kafka.clients.producer.Producer;
import org.apache.kafka.clients.producer.ProducerRecord;

/**
 * The least that can take packs: an endpoint of the same library that acknowledges at once, or as soon as Kafka has
 * the payload as it came. No check, no decoding, no limit, no tally: what ingest is held against.
 */
final class Bridge implements AutoCloseable {
    private final Vertx vertx = Vertx.vertx(new VertxOptions().setEventLoopPoolSize(1));
    private final Context loop = vertx.getOrCreateContext();
    private final Optional<Producer<byte[], byte[]>> producer;
    private final String topic;
    private final MqttServer server;

    private Bridge(Optional<Producer<byte[], byte[]>> producer, String topic) throws Exception {
        this.producer = producer;
        this.topic = topic;
        this.server = MqttServer.create(
                        vertx,
                        new MqttServerOptions().setHost("127.0.0.1").setPort(0).setMaxMessageSize(256 * 1024))
                .endpointHandler(this::connected);
        loop.runOnContext(unused -> server.listen());
        for (int i = 0; i < 100 && server.actualPort() == 0; i++) {
            TimeUnit.MILLISECONDS.sleep(50);
        }
    }

    /** Acknowledges at once. */
    static Bridge echo() throws Exception {
        return new Bridge(Optional.empty(), "");
    }

    /** Acknowledges what Kafka has. */
    static Bridge to(Producer<byte[], byte[]> producer, String topic) throws Exception {
        return new Bridge(Optional.of(producer), topic);
    }

    int port() {
        return server.actualPort();
    }

    private void connected(MqttEndpoint endpoint) {
        if (producer.isEmpty()) {
            endpoint.publishAutoAck(false)
                    .publishHandler(message -> acknowledge(endpoint, message.messageId()))
                    .accept(false);
        } else {
            InOrder receipts = new InOrder(endpoint);
            endpoint.publishAutoAck(false)
                    .publishHandler(message -> store(message, receipts))
                    .accept(false);
        }
    }

    /** Receipts leave in the order of the messages [MQTT-4.6.0-2]. */
    private static final class InOrder {
        private final MqttEndpoint endpoint;
        private final ArrayDeque<int[]> owed = new ArrayDeque<>();

        InOrder(MqttEndpoint endpoint) {
            this.endpoint = endpoint;
        }

        int[] owe(int id) {
            int[] receipt = {id, 0};
            owed.addLast(receipt);
            return receipt;
        }

        void settle(int[] receipt) {
            receipt[1] = 1;
            for (int[] head = owed.peekFirst(); head != null && head[1] == 1; head = owed.peekFirst()) {
                owed.removeFirst();
                acknowledge(endpoint, head[0]);
            }
        }
    }

    private void store(MqttPublishMessage message, InOrder receipts) {
        int[] receipt = receipts.owe(message.messageId());
        byte[] key = message.topicName().getBytes(java.nio.charset.StandardCharsets.UTF_8);
        var unused = producer.orElseThrow()
                .send(new ProducerRecord<>(topic, key, message.payload().getBytes()), (where, problem) -> {
                    if (problem == null) {
                        loop.runOnContext(now -> receipts.settle(receipt));
                    } else {
                        System.err.println("not stored: " + problem);
                    }
                });
    }

    private static void acknowledge(MqttEndpoint endpoint, int id) {
        if (!endpoint.isConnected()) {
            return;
        }
        endpoint.publishAcknowledge(id, MqttPubAckReasonCode.SUCCESS, MqttProperties.NO_PROPERTIES);
    }

    @Override
    public void close() {
        vertx.close().toCompletionStage().toCompletableFuture().join();
    }
}
