package dev.rimecast.ingest.mqtt;

import io.netty.handler.codec.mqtt.MqttProperties;
import io.vertx.mqtt.MqttWill;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.Optional;

/**
 * The only will that is taken: {@code offline} on the gateway's own presence topic.
 *
 * @param delay how long a gateway may be away before it counts (section 3.1.3.2.2), so that a flap is no alert
 */
record Will(String gateway, Duration delay) {

    /** Raised for a will that would say anything else. */
    static final class NotAllowed extends Exception {
        private static final long serialVersionUID = 1L;

        NotAllowed() {
            super("a will must be 'offline' on fleet/{gateway}/presence of the gateway itself");
        }
    }

    /** @param identity who leaves it; only of itself can a gateway say that it is gone */
    static Optional<Will> of(MqttWill will, Identity identity) throws NotAllowed {
        if (!will.isWillFlag()) {
            return Optional.empty();
        }
        byte[] message = will.getWillMessageBytes();
        boolean saysOffline = message != null && new String(message, StandardCharsets.UTF_8).equals("offline");
        if (saysOffline
                && TopicName.parse(will.getWillTopic()) instanceof TopicName.Presence presence
                && identity.isOrBecomes(presence.gateway())) {
            return Optional.of(new Will(presence.gateway(), delayOf(will)));
        }
        throw new NotAllowed();
    }

    private static Duration delayOf(MqttWill will) {
        var properties = will.getWillProperties();
        var property = properties == null ? null : properties.getProperty(MqttProperties.WILL_DELAY_INTERVAL);
        if (property == null || !(property.value() instanceof Integer seconds)) {
            return Duration.ZERO;
        }
        // An unsigned number of four bytes, which may come as a negative int.
        long delay = Integer.toUnsignedLong(seconds);
        return Duration.ofSeconds(Math.min(delay, Limits.MAX_WILL_DELAY_SECONDS));
    }
}
