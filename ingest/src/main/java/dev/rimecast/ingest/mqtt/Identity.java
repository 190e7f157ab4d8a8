package dev.rimecast.ingest.mqtt;

import java.util.Optional;

/**
 * Which gateway a connection speaks for. Gateways have no credentials yet, so the first topic that a connection names
 * (its will, a subscription or a message) decides, and holds as long as the connection does: one connection, one
 * gateway.
 */
public final class Identity {
    private Optional<String> gateway = Optional.empty();

    /** Whether the connection is this gateway, or is nobody yet and now becomes it. */
    boolean isOrBecomes(String name) {
        if (gateway.isEmpty()) {
            gateway = Optional.of(name);
        }
        return gateway.get().equals(name);
    }

    Optional<String> gateway() {
        return gateway;
    }
}
