package dev.rimecast.ingest.mqtt;

import dev.rimecast.ingest.ack.AckOutlet;
import dev.rimecast.ingest.intake.Store;
import dev.rimecast.telemetry.ack.GatewayAckJson;
import dev.rimecast.telemetry.gateway.GatewayKey;
import dev.rimecast.telemetry.log.PackNumber;
import io.netty.handler.codec.TooLongFrameException;
import io.netty.handler.codec.mqtt.MqttProperties;
import io.netty.handler.codec.mqtt.MqttQoS;
import io.netty.handler.codec.mqtt.MqttVersion;
import io.vertx.core.buffer.Buffer;
import io.vertx.mqtt.MqttEndpoint;
import io.vertx.mqtt.messages.MqttPublishMessage;
import io.vertx.mqtt.messages.MqttSubscribeMessage;
import io.vertx.mqtt.messages.MqttUnsubscribeMessage;
import io.vertx.mqtt.messages.codes.MqttDisconnectReasonCode;
import io.vertx.mqtt.messages.codes.MqttSubAckReasonCode;
import io.vertx.mqtt.messages.codes.MqttUnsubAckReasonCode;
import java.time.Duration;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * One connection of a gateway, from CONNACK to its end. Lives on one event loop; only the store answers from
 * elsewhere, and is brought back to it. A receipt belongs to this connection: a late answer never acknowledges what
 * has the same packet id on the next one.
 */
final class GatewayConnection implements Crowd.Member {
    private static final Logger log = LoggerFactory.getLogger(GatewayConnection.class);

    private final MqttEndpoint endpoint;
    private final LoopTasks loop;
    private final Desk desk;
    private final Store store;
    private final RateLimit rate;
    private final SocketValve valve;
    private final Optional<Will> will;
    private final Identity identity;
    private final Optional<GatewayKey> key;
    private final AckQueue receipts = new AckQueue(this::send);
    private final AckBoard acks;
    private final Crowd crowd;
    private final AckOutlet ackOutlet = new AckOutlet(this::sendAck);
    private MqttQoS ackQos = MqttQoS.AT_LEAST_ONCE;
    private boolean isRateLimited;
    private boolean hasJoined;
    private boolean saidGoodbye;

    GatewayConnection(
            MqttEndpoint endpoint,
            LoopTasks loop,
            Desk desk,
            Store store,
            RateLimit rate,
            Identity identity,
            Optional<GatewayKey> key,
            Optional<Will> will,
            AckBoard acks,
            Crowd crowd) {
        this.endpoint = endpoint;
        this.loop = loop;
        this.desk = desk;
        this.store = store;
        this.rate = rate;
        this.identity = identity;
        this.key = key;
        this.will = will;
        this.acks = acks;
        this.crowd = crowd;
        this.valve = SocketValve.of(endpoint);
    }

    /** Answers CONNECT and begins to read. */
    void open() {
        endpoint.publishAutoAck(false)
                .publishHandler(this::onPublish)
                .publishReleaseHandler(endpoint::publishComplete)
                .subscribeHandler(this::onSubscribe)
                .publishAcknowledgeHandler(unused -> ackOutlet.arrived())
                .unsubscribeHandler(this::onUnsubscribe)
                .disconnectMessageHandler(
                        message -> saidGoodbye = message.code() != MqttDisconnectReasonCode.WITH_WILL_MESSAGE)
                .exceptionHandler(this::onException);
        if (isVersion5()) {
            endpoint.accept(false, Limits.announcement());
        } else {
            endpoint.accept(false);
        }
        setValve();
        joinCrowd();
    }

    /** As soon as it is known which gateway it speaks for. */
    private void joinCrowd() {
        if (!hasJoined && endpoint.isConnected()) {
            identity.gateway().ifPresent(gateway -> {
                hasJoined = true;
                crowd.join(gateway, this);
            });
        }
    }

    @Override
    public void giveWay() {
        close(MqttDisconnectReasonCode.QUOTA_EXCEEDED);
    }

    /** Reads on, or stops reading, as the store and the rate allow. */
    void setValve() {
        if (store.isFull() || isRateLimited) {
            valve.pause();
        } else {
            valve.resume();
        }
    }

    /** Whether it would be let in now, too. */
    boolean isStillIn(Gatekeeper gatekeeper) {
        return gatekeeper.isStillIn(identity, key);
    }

    /** The will of a gateway that has gone without a word. */
    Optional<Will> willLeft() {
        return saidGoodbye ? Optional.empty() : will;
    }

    /** Ends the connection from our side; nothing that has no receipt gets one. */
    void close(MqttDisconnectReasonCode reason) {
        if (!endpoint.isConnected()) {
            return;
        }
        // Our trouble, or it has others: the gateway is not lost.
        saidGoodbye = saidGoodbye
                || reason == MqttDisconnectReasonCode.SERVER_BUSY
                || reason == MqttDisconnectReasonCode.QUOTA_EXCEEDED;
        if (isVersion5()) {
            endpoint.disconnect(reason, MqttProperties.NO_PROPERTIES);
        } else {
            endpoint.close();
        }
    }

    private void onPublish(MqttPublishMessage publish) {
        if (!isWithinLimits(publish)) {
            return;
        }
        Desk.Ruling ruling = desk.rule(
                publish.topicName(), publish.payload().getBytes(), PackNumbers.read(publish.properties()), identity);
        joinCrowd();
        if (publish.qosLevel() == MqttQoS.AT_MOST_ONCE) {
            store.store(ruling.decision(), isStored -> {});
        } else {
            AckQueue.Receipt receipt = receipts.owe(publish.messageId(), publish.qosLevel() == MqttQoS.EXACTLY_ONCE);
            store.store(ruling.decision(), isStored -> loop.add(() -> onAnswer(receipt, ruling.code(), isStored)));
        }
        Duration wait = rate.take(System.nanoTime());
        if (!wait.isZero()) {
            isRateLimited = true;
            loop.later(Math.max(1, wait.toMillis()), () -> {
                isRateLimited = false;
                setValve();
            });
        }
        setValve();
    }

    private boolean isWithinLimits(MqttPublishMessage publish) {
        if (!isVersion5()) {
            return true;
        }
        if (publish.qosLevel() == MqttQoS.EXACTLY_ONCE) {
            close(MqttDisconnectReasonCode.QOS_NOT_SUPPORTED);
            return false;
        }
        var alias = publish.properties().getProperty(MqttProperties.TOPIC_ALIAS);
        if (alias != null && alias.value() instanceof Integer number && number > Limits.TOPIC_ALIAS_MAXIMUM) {
            close(MqttDisconnectReasonCode.TOPIC_ALIAS_INVALID);
            return false;
        }
        if (publish.qosLevel() == MqttQoS.AT_LEAST_ONCE && receipts.size() >= Limits.RECEIVE_MAXIMUM) {
            close(MqttDisconnectReasonCode.RECEIVE_MAXIMUM_EXCEEDED);
            return false;
        }
        return true;
    }

    private void onAnswer(AckQueue.Receipt receipt, ReceiptCode code, boolean isStored) {
        if (isStored) {
            receipts.settle(receipt, code);
        } else {
            log.warn(
                    "gateway {} is disconnected: Kafka did not confirm a pack, it must be sent again",
                    identity.gateway().orElse("unknown"));
            close(MqttDisconnectReasonCode.SERVER_BUSY);
        }
    }

    private void send(AckQueue.Receipt receipt) {
        if (!endpoint.isConnected()) {
            return;
        }
        int id = receipt.packetId();
        if (receipt.isExactlyOnce()) {
            endpoint.publishReceived(id);
        } else if (isVersion5()) {
            endpoint.publishAcknowledge(id, receipt.code().ack(), MqttProperties.NO_PROPERTIES);
        } else {
            endpoint.publishAcknowledge(id);
        }
    }

    private void onSubscribe(MqttSubscribeMessage message) {
        List<Boolean> allowed = message.topicSubscriptions().stream()
                .map(s -> TopicName.parse(s.topicName()) instanceof TopicName.Ack ack
                        && identity.isOrBecomes(ack.gateway()))
                .toList();
        ackQos = message.topicSubscriptions().stream().anyMatch(s -> s.qualityOfService() != MqttQoS.AT_MOST_ONCE)
                ? MqttQoS.AT_LEAST_ONCE
                : MqttQoS.AT_MOST_ONCE;
        if (isVersion5()) {
            MqttSubAckReasonCode granted = ackQos == MqttQoS.AT_LEAST_ONCE
                    ? MqttSubAckReasonCode.GRANTED_QOS1
                    : MqttSubAckReasonCode.GRANTED_QOS0;
            endpoint.subscribeAcknowledge(
                    message.messageId(),
                    allowed.stream()
                            .map(a -> a ? granted : MqttSubAckReasonCode.NOT_AUTHORIZED)
                            .toList(),
                    MqttProperties.NO_PROPERTIES);
        } else {
            endpoint.subscribeAcknowledge(
                    message.messageId(),
                    allowed.stream().map(a -> a ? ackQos : MqttQoS.FAILURE).toList());
        }
        if (allowed.contains(true)) {
            joinCrowd();
            acks.listen(identity.gateway().orElseThrow(), ackOutlet);
        }
    }

    private void onUnsubscribe(MqttUnsubscribeMessage message) {
        stopsListening();
        if (isVersion5()) {
            endpoint.unsubscribeAcknowledge(
                    message.messageId(),
                    Collections.nCopies(message.topics().size(), MqttUnsubAckReasonCode.SUCCESS),
                    MqttProperties.NO_PROPERTIES);
        } else {
            endpoint.unsubscribeAcknowledge(message.messageId());
        }
    }

    /** Its end, whoever wanted it. */
    void isOver() {
        stopsListening();
        identity.gateway().ifPresent(gateway -> crowd.leave(gateway, this));
    }

    /** Nothing more is told here; the only topic there is to listen to is the gateway's own. */
    private void stopsListening() {
        identity.gateway().ifPresent(gateway -> acks.leave(gateway, ackOutlet));
    }

    private void sendAck(PackNumber upTo) {
        String topic = "fleet/" + identity.gateway().orElseThrow() + "/ack";
        if (!endpoint.isConnected()) {
            return;
        }
        endpoint.publish(topic, Buffer.buffer(GatewayAckJson.payload(upTo)), ackQos, false, false)
                .onSuccess(unused -> {
                    if (ackQos == MqttQoS.AT_MOST_ONCE) {
                        ackOutlet.arrived();
                    }
                })
                .onFailure(problem -> log.debug("an acknowledgement could not be sent", problem));
    }

    private void onException(Throwable problem) {
        log.info("connection of gateway {} ends: {}", identity.gateway().orElse("unknown"), problem.toString());
        close(
                problem instanceof TooLongFrameException
                        ? MqttDisconnectReasonCode.PACKET_TOO_LARGE
                        : MqttDisconnectReasonCode.MALFORMED_PACKET);
    }

    private boolean isVersion5() {
        return endpoint.protocolVersion() >= MqttVersion.MQTT_5.protocolLevel();
    }
}
