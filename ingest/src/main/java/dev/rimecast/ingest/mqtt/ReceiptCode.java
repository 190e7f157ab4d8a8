package dev.rimecast.ingest.mqtt;

import io.vertx.mqtt.messages.codes.MqttPubAckReasonCode;
import io.vertx.mqtt.messages.codes.MqttPubRecReasonCode;

/**
 * What a receipt says to an MQTT 5 client (section 3.4.2.1); MQTT 3.1.1 has one word only. A refusal ends the message:
 * it is used for what is safely among the rejects and would be rejected again.
 */
public enum ReceiptCode {
    TAKEN(MqttPubAckReasonCode.SUCCESS, MqttPubRecReasonCode.SUCCESS),
    UNKNOWN_TOPIC(MqttPubAckReasonCode.TOPIC_NAME_INVALID, MqttPubRecReasonCode.TOPIC_NAME_INVALID),
    OTHER_GATEWAY(MqttPubAckReasonCode.NOT_AUTHORIZED, MqttPubRecReasonCode.NOT_AUTHORIZED),
    POISON(MqttPubAckReasonCode.PAYLOAD_FORMAT_INVALID, MqttPubRecReasonCode.PAYLOAD_FORMAT_INVALID);

    private final MqttPubAckReasonCode ack;
    private final MqttPubRecReasonCode received;

    ReceiptCode(MqttPubAckReasonCode ack, MqttPubRecReasonCode received) {
        this.ack = ack;
        this.received = received;
    }

    MqttPubAckReasonCode ack() {
        return ack;
    }

    MqttPubRecReasonCode received() {
        return received;
    }
}
