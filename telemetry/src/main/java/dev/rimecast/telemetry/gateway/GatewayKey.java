package dev.rimecast.telemetry.gateway;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Instant;
import java.util.HexFormat;
import java.util.Locale;
import java.util.Optional;

/**
 * Something by which a gateway can show that it is itself. The thing itself is not in it, only its SHA-256: a secret is
 * 256 random bits, which nobody finds by trying.
 *
 * @param sha256 of the secret's text in UTF-8, or of the certificate in DER; 64 hexadecimal digits
 * @param until when it ends; empty: when it is revoked
 */
public record GatewayKey(Kind kind, String sha256, Optional<Instant> until) {

    /** How it is shown. */
    public enum Kind {
        /** As the password of CONNECT. */
        SECRET,
        /** As the client certificate of the TLS handshake. */
        CERTIFICATE;

        private final String code = name().toLowerCase(Locale.ROOT);

        public String code() {
            return code;
        }

        public static Optional<Kind> ofCode(String code) {
            for (Kind kind : values()) {
                if (kind.code.equals(code)) {
                    return Optional.of(kind);
                }
            }
            return Optional.empty();
        }
    }

    public GatewayKey {
        if (!sha256.matches("[0-9a-f]{64}")) {
            throw new IllegalArgumentException("a SHA-256 has 64 hexadecimal digits, found " + sha256.length());
        }
    }

    public boolean isValidAt(Instant now) {
        return until.map(now::isBefore).orElse(true);
    }

    /** Whether it is of this kind and of this digest; takes as long wherever they differ. */
    public boolean is(Kind shown, String digest) {
        return kind == shown
                && MessageDigest.isEqual(
                        sha256.getBytes(StandardCharsets.US_ASCII), digest.getBytes(StandardCharsets.US_ASCII));
    }

    /** The digest of a secret. */
    public static String digest(String secret) {
        return digest(secret.getBytes(StandardCharsets.UTF_8));
    }

    /** The digest of a certificate in DER. */
    public static String digest(byte[] bytes) {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }
}
