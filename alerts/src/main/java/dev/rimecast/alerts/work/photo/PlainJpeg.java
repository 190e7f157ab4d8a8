package dev.rimecast.alerts.work.photo;

import java.io.ByteArrayOutputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/**
 * A JPEG (ITU-T T.81) with its picture and nothing else: no place, time, camera, thumbnail, comment or colour profile, and nothing
 * behind its end. Only its segments are looked at; the picture itself is never unpacked, so none can be too large for memory.
 *
 * <p>Kept are the tables, frame and scans that baseline, extended and progressive JPEG need; every application segment (APP0 to
 * APP15) and comment is left out, wherever it stands, and one that says only how colours are coded is written anew. Whoever
 * turns a picture by a note in its metadata (EXIF orientation) has to turn the picture itself before it is sent.
 */
public final class PlainJpeg {
    /** Of what is sent, in bytes. */
    public static final int MOST_BYTES = 1 << 20;
    /** Of an edge, in pixels. */
    public static final int LONGEST_EDGE = 2_048;

    private final byte[] bytes;
    private final int width;
    private final int height;

    private PlainJpeg(byte[] bytes, int width, int height) {
        this.bytes = bytes;
        this.width = width;
        this.height = height;
    }

    /** @throws NotAPhotoException if it is not a whole JPEG that browsers show, or too large */
    public static PlainJpeg of(byte[] sent) throws NotAPhotoException {
        if (sent.length > MOST_BYTES) {
            throw new NotAPhotoException("is larger than " + MOST_BYTES / 1024 + " KiB");
        }
        ByteArrayOutputStream kept = new ByteArrayOutputStream(sent.length + 32);
        JpegWalk walk = new JpegWalk(sent, kept);
        walk.run();
        return new PlainJpeg(kept.toByteArray(), walk.width(), walk.height());
    }

    /** Not copied: not to be changed. */
    public byte[] bytes() {
        return bytes;
    }

    public int width() {
        return width;
    }

    public int height() {
        return height;
    }

    /** In hexadecimal digits. */
    public String sha256() {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has SHA-256", e);
        }
    }
}
