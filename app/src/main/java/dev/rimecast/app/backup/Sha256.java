package dev.rimecast.app.backup;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;

/** The sum by which archives are checked (FIPS 180-4). */
final class Sha256 {
    private Sha256() {}

    static MessageDigest fresh() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has SHA-256", e);
        }
    }

    static byte[] of(byte[] bytes) {
        return fresh().digest(bytes);
    }
}
