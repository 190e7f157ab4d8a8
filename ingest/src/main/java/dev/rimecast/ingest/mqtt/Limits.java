package dev.rimecast.ingest.mqtt;

import io.netty.handler.codec.mqtt.MqttProperties;
import io.netty.handler.codec.mqtt.MqttProperties.IntegerProperty;

/** What the endpoint takes, and how it says so to an MQTT 5 client (section 3.2.2.3). */
final class Limits {
    /** A whole packet, bytes; the payload has a little less. */
    static final int MAX_PACKET_BYTES = 256 * 1024;
    /** QoS 1 messages of one connection without a receipt. */
    static final int RECEIVE_MAXIMUM = 100;
    /** Topic aliases of one connection. */
    static final int TOPIC_ALIAS_MAXIMUM = 16;
    /** How long a connection may take to send CONNECT, s. */
    static final int CONNECT_TIMEOUT_SECONDS = 5;
    /** Longest will delay that is honoured, s: longer, and a lost gateway would be reported too late to matter. */
    static final int MAX_WILL_DELAY_SECONDS = 600;

    private Limits() {}

    static MqttProperties announcement() {
        MqttProperties properties = new MqttProperties();
        add(properties, MqttProperties.RECEIVE_MAXIMUM, RECEIVE_MAXIMUM);
        add(properties, MqttProperties.MAXIMUM_QOS, 1);
        add(properties, MqttProperties.MAXIMUM_PACKET_SIZE, MAX_PACKET_BYTES);
        add(properties, MqttProperties.TOPIC_ALIAS_MAXIMUM, TOPIC_ALIAS_MAXIMUM);
        // No session outlives its connection: what was not acknowledged, the gateway sends again by itself.
        add(properties, MqttProperties.SESSION_EXPIRY_INTERVAL, 0);
        add(properties, MqttProperties.WILDCARD_SUBSCRIPTION_AVAILABLE, 0);
        add(properties, MqttProperties.SHARED_SUBSCRIPTION_AVAILABLE, 0);
        add(properties, MqttProperties.SUBSCRIPTION_IDENTIFIER_AVAILABLE, 0);
        return properties;
    }

    private static void add(MqttProperties properties, int type, int value) {
        properties.add(new IntegerProperty(type, value));
    }
}
