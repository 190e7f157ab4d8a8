package dev.rimecast.alerts.people;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.security.SecureRandom;
import java.util.Base64;

/**
 * Random texts that let somebody in: sessions, API tokens, links. They have 256 bits, so a plain SHA-256 of them can be
 * kept and looked up (OWASP ASVS 5.0, 7.2.3, asks for 128 bits).
 */
public final class Secret {
    private static final int BYTES = 32;
    private static final SecureRandom RANDOM = new SecureRandom();
    private static final Base64.Encoder TEXT = Base64.getUrlEncoder().withoutPadding();

    private Secret() {}

    /** A new one; 43 letters, digits, {@code -} and {@code _}. */
    public static String make() {
        byte[] bytes = new byte[BYTES];
        RANDOM.nextBytes(bytes);
        return TEXT.encodeToString(bytes);
    }

    /** What is kept of it. */
    public static byte[] hash(String secret) {
        return sha256(secret);
    }

    /** What a page must send back to change something: a function of its session's token that does not tell it. */
    public static String forgeryToken(String sessionToken) {
        return TEXT.encodeToString(sha256("forgery|" + sessionToken));
    }

    /** Compares in a time that does not depend on where they differ. */
    public static boolean same(String one, String other) {
        return MessageDigest.isEqual(one.getBytes(StandardCharsets.UTF_8), other.getBytes(StandardCharsets.UTF_8));
    }

    private static byte[] sha256(String text) {
        try {
            return MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }
}
