package dev.rimecast.dashboard.http;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.zip.Deflater;
import java.util.zip.GZIPOutputStream;
import org.jspecify.annotations.Nullable;

/** Bytes to send, with their entity tag, and packed once on first demand. Safe for many threads. */
public final class Payload {
    /** Below this, packing gains nothing: it would fit one network packet anyway. */
    private static final int WORTH_PACKING_BYTES = 1_400;

    private final byte[] bytes;
    private final boolean fixed;
    private final String entityTag;
    private volatile byte @Nullable [] packed;

    private Payload(byte[] bytes, boolean fixed) {
        this.bytes = bytes;
        this.fixed = fixed;
        // weak, since the packed and the plain bytes share it
        this.entityTag = "W/\"" + hash(bytes) + '"';
    }

    /** An answer that is soon another: packed fast. */
    public static Payload passing(byte[] bytes) {
        return new Payload(bytes, false);
    }

    /** A file that stays: packed as small as possible. */
    static Payload fixed(byte[] bytes) {
        return new Payload(bytes, true);
    }

    byte[] bytes() {
        return bytes;
    }

    String entityTag() {
        return entityTag;
    }

    boolean worthPacking() {
        return bytes.length > WORTH_PACKING_BYTES;
    }

    /** Packs it now, where it is worth it, so that nobody who asks waits for that. */
    public Payload packedNow() {
        if (worthPacking()) {
            packed();
        }
        return this;
    }

    byte[] packed() {
        byte[] known = packed;
        if (known == null) {
            known = gzip(bytes, fixed ? Deflater.BEST_COMPRESSION : Deflater.BEST_SPEED);
            packed = known;
        }
        return known;
    }

    static String hash(byte[] bytes) {
        try {
            byte[] digest = MessageDigest.getInstance("SHA-256").digest(bytes);
            return HexFormat.of().formatHex(digest, 0, 10);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has SHA-256", e);
        }
    }

    private static byte[] gzip(byte[] bytes, int level) {
        ByteArrayOutputStream out = new ByteArrayOutputStream(bytes.length / 4 + 64);
        try (GZIPOutputStream gzip = new LevelledGzip(out, level)) {
            gzip.write(bytes);
        } catch (IOException e) {
            throw new UncheckedIOException("writing to memory", e);
        }
        return out.toByteArray();
    }

    private static final class LevelledGzip extends GZIPOutputStream {
        LevelledGzip(ByteArrayOutputStream out, int level) throws IOException {
            super(out, 8192);
            def.setLevel(level);
        }
    }
}
