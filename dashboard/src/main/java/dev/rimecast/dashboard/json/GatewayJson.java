package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.gateways.GatewayCredential;
import dev.rimecast.alerts.gateways.GatewayDesk;
import dev.rimecast.telemetry.gateway.GatewayKey;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/** Keys of gateways on the wire. */
public final class GatewayJson {
    private GatewayJson() {}

    /**
     * A key, or what is known of it.
     *
     * @param kind {@code secret} or {@code certificate}
     * @param fingerprint by which one key is taken back: the beginning of its SHA-256
     * @param sha256 of a certificate, by which its owner knows it again; left out for a secret
     * @param secret only in the answer to who has it made, and nowhere else
     */
    public record CredentialJson(
            UUID id,
            String gateway,
            String kind,
            String fingerprint,
            Optional<String> sha256,
            Optional<String> secret,
            Instant addedAt,
            String addedBy,
            Optional<Instant> until,
            Optional<Instant> endedAt,
            Optional<String> endedBy) {

        public static CredentialJson of(GatewayCredential one) {
            return of(one, Optional.empty());
        }

        public static CredentialJson made(GatewayDesk.Made made) {
            return of(made.credential(), made.secret());
        }

        private static CredentialJson of(GatewayCredential one, Optional<String> secret) {
            boolean isCertificate = one.key().kind() == GatewayKey.Kind.CERTIFICATE;
            return new CredentialJson(
                    one.id(),
                    one.gateway(),
                    one.key().kind().code(),
                    one.fingerprint(),
                    Optional.of(one.key().sha256()).filter(unused -> isCertificate),
                    secret,
                    one.addedAt(),
                    one.addedBy(),
                    one.key().until(),
                    one.endedAt(),
                    one.endedBy());
        }
    }
}
