package dev.rimecast.analytics.state;

import java.util.Arrays;
import java.util.zip.DataFormatException;
import java.util.zip.Deflater;
import java.util.zip.Inflater;

/** Bytes that are mostly text, in the zlib format (RFC 1950), with their length before them. */
public final class Packed {
    /** To how many of its bytes one can be packed, at most and a little more. */
    private static final int MOST_PACKED = 1100;

    private Packed() {}

    public static void write(byte[] bytes, StateWriter out) {
        Deflater deflater = new Deflater(Deflater.BEST_COMPRESSION);
        try {
            deflater.setInput(bytes);
            deflater.finish();
            byte[] packed = new byte[Math.max(64, bytes.length / 2)];
            int size = 0;
            while (!deflater.finished()) {
                if (size == packed.length) {
                    packed = Arrays.copyOf(packed, packed.length * 2);
                }
                size += deflater.deflate(packed, size, packed.length - size);
            }
            out.whole(bytes.length).block(Arrays.copyOf(packed, size));
        } finally {
            deflater.end();
        }
    }

    /** @throws IllegalStateException if they are not what {@link #write} made */
    public static byte[] read(StateReader in) {
        int length = in.wholeInt();
        byte[] packed = in.block();
        if (length < 0 || length / MOST_PACKED > packed.length) {
            throw new IllegalStateException(packed.length + " bytes can't be " + length + " packed");
        }
        Inflater inflater = new Inflater();
        try {
            inflater.setInput(packed);
            byte[] bytes = new byte[length];
            int size = 0;
            while (size < length) {
                int more = inflater.inflate(bytes, size, length - size);
                if (more == 0) {
                    throw new IllegalStateException(
                            "a packed part of a state ends after " + size + " of " + length + " bytes");
                }
                size += more;
            }
            if (inflater.inflate(new byte[1]) > 0 || !inflater.finished()) {
                throw new IllegalStateException("a packed part of a state goes on after its " + length + " bytes");
            }
            return bytes;
        } catch (DataFormatException e) {
            throw new IllegalStateException("a packed part of a state is not in the zlib format", e);
        } finally {
            inflater.end();
        }
    }
}
