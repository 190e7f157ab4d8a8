package dev.rimecast.ingest.mqtt;

import dev.rimecast.ingest.intake.PayloadFormat;
import dev.rimecast.telemetry.machine.Ids;

/** A topic, as the contract reads it. */
sealed interface TopicName {

    /** {@code fleet/{gateway}/senml} or {@code fleet/{gateway}/senml-cbor}. */
    record Packs(String gateway, PayloadFormat format) implements TopicName {}

    /** {@code fleet/{gateway}/presence}. */
    record Presence(String gateway) implements TopicName {}

    /** {@code fleet/{gateway}/ack}: ours to write, the gateway's to read. */
    record Ack(String gateway) implements TopicName {}

    /** Anything else. */
    record Unknown() implements TopicName {}

    static TopicName parse(String topic) {
        if (!topic.startsWith("fleet/")) {
            return new Unknown();
        }
        int end = topic.indexOf('/', 6);
        if (end < 0) {
            return new Unknown();
        }
        String gateway = topic.substring(6, end);
        if (!Ids.isGateway(gateway)) {
            return new Unknown();
        }
        return switch (topic.substring(end + 1)) {
            case "senml" -> new Packs(gateway, PayloadFormat.JSON);
            case "senml-cbor" -> new Packs(gateway, PayloadFormat.CBOR);
            case "presence" -> new Presence(gateway);
            case "ack" -> new Ack(gateway);
            default -> new Unknown();
        };
    }
}
