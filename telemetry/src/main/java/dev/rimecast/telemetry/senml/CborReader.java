package dev.rimecast.telemetry.senml;

import dev.rimecast.telemetry.reading.RejectReason;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;

/**
 * Reads CBOR (RFC 8949) item by item out of one array. {@link #next} takes the head of an item; what it says is then in
 * {@link #major}, {@link #info} and {@link #argument}. Lengths are checked against the input before they are used.
 */
final class CborReader {
    static final int UNSIGNED = 0;
    static final int NEGATIVE = 1;
    static final int BYTES = 2;
    static final int TEXT = 3;
    static final int ARRAY = 4;
    static final int MAP = 5;
    static final int TAG = 6;
    /** Floats, flags, null. */
    static final int SIMPLE = 7;

    private static final int INDEFINITE = 31;
    private static final int BREAK = 0xff;
    private static final int MAX_DEPTH = 16;
    private static final int MAX_TEXT_BYTES = 64 * 1024;

    private final byte[] bytes;
    private int position;
    private int major;
    private int info;
    private long argument;

    CborReader(byte[] bytes) {
        this.bytes = bytes;
    }

    int major() {
        return major;
    }

    /** The low five bits of the head: for {@link #SIMPLE} what kind it is. */
    int info() {
        return info;
    }

    /** The head's number, to be read as unsigned; the bits of a float. */
    long argument() {
        return argument;
    }

    boolean isIndefinite() {
        return info == INDEFINITE;
    }

    boolean isAtEnd() {
        return position == bytes.length;
    }

    void next() {
        int head = octet();
        major = head >>> 5;
        info = head & 0x1f;
        if (info < 24) {
            argument = info;
        } else if (info <= 27) {
            argument = 0;
            for (int i = 1 << (info - 24); i > 0; i--) {
                argument = argument << 8 | octet();
            }
        } else if (info == INDEFINITE && major >= BYTES && major <= MAP) {
            argument = 0;
        } else {
            throw malformed("unexpected byte " + Integer.toHexString(head));
        }
    }

    /** The next head that is no tag. */
    void nextUntagged() {
        do {
            next();
        } while (major == TAG);
    }

    /** How many items the array or map at hand has, or -1 for "until {@link #takeBreak}". */
    long items() {
        if (isIndefinite()) {
            return -1;
        }
        if (argument < 0 || argument > bytes.length - position) {
            throw malformed("more items than bytes");
        }
        return argument;
    }

    /** Whether an array or map of no stated length ends here. */
    boolean takeBreak() {
        if (position < bytes.length && (bytes[position] & 0xff) == BREAK) {
            position++;
            return true;
        }
        return false;
    }

    /** The text whose head is at hand. RFC 8428 section 6 wants definite lengths. */
    String text() {
        if (isIndefinite()) {
            throw malformed("text without length");
        }
        int length = length();
        if (length > MAX_TEXT_BYTES) {
            throw new BadPack(RejectReason.TOO_LARGE, "text of " + length + " bytes, at most " + MAX_TEXT_BYTES);
        }
        int from = position;
        position += length;
        for (int i = from; i < position; i++) {
            if (bytes[i] < 0) {
                return notAscii(from, length);
            }
        }
        return new String(bytes, from, length, StandardCharsets.ISO_8859_1);
    }

    /** Passes over what is left of the item whose head is at hand. */
    void skip() {
        skip(0);
    }

    private void skip(int depth) {
        if (depth > MAX_DEPTH) {
            throw new BadPack(RejectReason.TOO_LARGE, "nested more than " + MAX_DEPTH + " deep");
        }
        switch (major) {
            case BYTES, TEXT -> {
                if (isIndefinite()) {
                    skipItems(-1, depth);
                } else {
                    position += length();
                }
            }
            case ARRAY -> skipItems(items(), depth);
            case MAP -> {
                long pairs = items();
                skipItems(pairs < 0 ? -1 : pairs * 2, depth);
            }
            case TAG -> skipItems(1, depth);
            default -> {
                // Numbers, floats, flags and null are all in the head.
            }
        }
    }

    private void skipItems(long items, int depth) {
        for (long i = 0; items < 0 ? !takeBreak() : i < items; i++) {
            next();
            skip(depth + 1);
        }
    }

    private int length() {
        if (argument < 0 || argument > bytes.length - position) {
            throw malformed("length " + Long.toUnsignedString(argument) + " is more than there is");
        }
        return (int) argument;
    }

    private String notAscii(int from, int length) {
        try {
            return StandardCharsets.UTF_8
                    .newDecoder()
                    .decode(ByteBuffer.wrap(bytes, from, length))
                    .toString();
        } catch (CharacterCodingException e) {
            throw malformed("text that is not UTF-8");
        }
    }

    private int octet() {
        if (isAtEnd()) {
            throw malformed("cut off");
        }
        return bytes[position++] & 0xff;
    }

    BadPack malformed(String what) {
        return new BadPack(RejectReason.NOT_SENML, "CBOR: " + what + " at byte " + position);
    }
}
