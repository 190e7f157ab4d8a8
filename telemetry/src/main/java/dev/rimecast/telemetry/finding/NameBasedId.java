package dev.rimecast.telemetry.finding;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.UUID;

/** UUID version 5 (RFC 9562 section 5.5): SHA-1 of a name space and a name. */
public final class NameBasedId {
    /** Our own name space: fixed for ever, since ids are compared across versions. */
    private static final UUID FINDINGS = UUID.fromString("6f0a2f3e-8d0b-4f6e-9a54-3d1c2c9b7e10");

    private NameBasedId() {}

    /** The id of a name; begin it with a word and a bar, such as {@code case|}, so that kinds of things don't meet. */
    public static UUID of(String name) {
        return of(name.getBytes(StandardCharsets.UTF_8));
    }

    static UUID of(byte[] name) {
        return of(FINDINGS, name);
    }

    static UUID of(UUID nameSpace, byte[] name) {
        ByteBuffer input = ByteBuffer.allocate(16 + name.length);
        input.putLong(nameSpace.getMostSignificantBits());
        input.putLong(nameSpace.getLeastSignificantBits());
        input.put(name);
        ByteBuffer hash = ByteBuffer.wrap(sha1(input.array()));
        long most = (hash.getLong() & 0xffffffffffff0fffL) | 0x5000L;
        long least = (hash.getLong() & 0x3fffffffffffffffL) | 0x8000000000000000L;
        return new UUID(most, least);
    }

    private static byte[] sha1(byte[] input) {
        try {
            return MessageDigest.getInstance("SHA-1").digest(input);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has SHA-1", e);
        }
    }
}
