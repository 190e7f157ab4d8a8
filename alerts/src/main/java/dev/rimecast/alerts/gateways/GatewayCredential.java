package dev.rimecast.alerts.gateways;

import dev.rimecast.telemetry.gateway.GatewayKey;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * A key that was given to a gateway, and what became of it. It is kept when it has ended.
 *
 * @param key its digest, and when it ends by itself
 * @param endedAt when somebody ended it
 */
public record GatewayCredential(
        UUID id,
        String gateway,
        GatewayKey key,
        Instant addedAt,
        String addedBy,
        Optional<Instant> endedAt,
        Optional<String> endedBy) {

    /** Of a SHA-256, enough to tell keys apart. */
    public static final int FINGERPRINT_DIGITS = 12;

    /** By which the key is named; nothing of it can be had from that. */
    public String fingerprint() {
        return key.sha256().substring(0, FINGERPRINT_DIGITS);
    }

    boolean holdsAt(Instant now) {
        return endedAt.isEmpty() && key.isValidAt(now);
    }

    GatewayCredential until(Instant end) {
        return new GatewayCredential(
                id,
                gateway,
                new GatewayKey(key.kind(), key.sha256(), Optional.of(end)),
                addedAt,
                addedBy,
                endedAt,
                endedBy);
    }

    GatewayCredential ended(Instant now, String by) {
        return new GatewayCredential(id, gateway, key, addedAt, addedBy, Optional.of(now), Optional.of(by));
    }
}
