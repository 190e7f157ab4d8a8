package dev.rimecast.telemetry.log;

import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/** The elements of the log's format, read one after another; every length is checked before anything is allocated. */
final class RecordReader {
    private final byte[] bytes;
    private int position;

    RecordReader(byte[] bytes) {
        this.bytes = bytes;
    }

    int octet() {
        need(1);
        return bytes[position++] & 0xff;
    }

    long unsigned() {
        long value = 0;
        for (int shift = 0; shift < 64; shift += 7) {
            int octet = octet();
            // The tenth byte has room for one bit only.
            if (shift == 63 && octet > 1) {
                break;
            }
            value |= (octet & 0x7fL) << shift;
            if (octet < 0x80) {
                return value;
            }
        }
        throw malformed("number of more than 64 bits");
    }

    long signed() {
        long value = unsigned();
        return (value >>> 1) ^ -(value & 1);
    }

    int signedInt() {
        long value = signed();
        if (value != (int) value) {
            throw malformed("number " + value + " beyond 32 bits");
        }
        return (int) value;
    }

    int nonNegativeInt() {
        long value = unsigned();
        if (value < 0 || value > Integer.MAX_VALUE) {
            throw malformed("number " + Long.toUnsignedString(value) + " beyond 31 bits");
        }
        return (int) value;
    }

    /**
     * A number of elements.
     *
     * @param leastBytes what one element needs at least: a count that cannot fit in what is left is refused here
     */
    int count(int leastBytes) {
        long count = unsigned();
        if (count < 0 || count > (bytes.length - position) / leastBytes) {
            throw malformed(
                    "count " + Long.toUnsignedString(count) + " with " + (bytes.length - position) + " bytes left");
        }
        return (int) count;
    }

    double float64() {
        need(8);
        long bits = 0;
        for (int i = 0; i < 8; i++) {
            bits = bits << 8 | (bytes[position++] & 0xff);
        }
        return Double.longBitsToDouble(bits);
    }

    String text() {
        int start = position;
        int size = count(1);
        int from = position;
        position += size;
        for (int i = from; i < position; i++) {
            if (bytes[i] < 0) {
                return notAscii(from, size, start);
            }
        }
        return new String(bytes, from, size, StandardCharsets.ISO_8859_1);
    }

    Instant instant() {
        long seconds = signed();
        long nanos = unsigned();
        if (nanos < 0 || nanos > 999_999_999) {
            throw malformed("time of more than 999999999 ns after the second");
        }
        return Instant.ofEpochSecond(seconds, nanos);
    }

    boolean flag() {
        int value = octet();
        if (value > 1) {
            throw malformed("flag " + value);
        }
        return value == 1;
    }

    <E extends Enum<E>> E choice(E[] values) {
        int ordinal = octet();
        if (ordinal >= values.length) {
            throw malformed("unknown choice " + ordinal + " of "
                    + values.getClass().getComponentType().getSimpleName());
        }
        return values[ordinal];
    }

    <E extends Enum<E>> Optional<E> optionalChoice(E[] values) {
        return flag() ? Optional.of(choice(values)) : Optional.empty();
    }

    Optional<String> optionalText() {
        return flag() ? Optional.of(text()) : Optional.empty();
    }

    Optional<LocalDate> optionalDate() {
        return flag() ? Optional.of(LocalDate.ofEpochDay(signed())) : Optional.empty();
    }

    OptionalDouble optionalFloat64() {
        return flag() ? OptionalDouble.of(float64()) : OptionalDouble.empty();
    }

    OptionalInt optionalInt() {
        return flag() ? OptionalInt.of(signedInt()) : OptionalInt.empty();
    }

    boolean isAtEnd() {
        return position == bytes.length;
    }

    void end() {
        if (position != bytes.length) {
            throw malformed(bytes.length - position + " bytes after the record");
        }
    }

    MalformedRecordException malformed(String what) {
        return new MalformedRecordException(what, "byte " + position);
    }

    MalformedRecordException malformed(RuntimeException cause) {
        return new MalformedRecordException(String.valueOf(cause.getMessage()), "byte " + position, cause);
    }

    private String notAscii(int from, int size, int start) {
        try {
            return StandardCharsets.UTF_8
                    .newDecoder()
                    .decode(ByteBuffer.wrap(bytes, from, size))
                    .toString();
        } catch (CharacterCodingException e) {
            throw new MalformedRecordException("text that is not UTF-8", "byte " + start, e);
        }
    }

    private void need(int size) {
        if (bytes.length - position < size) {
            throw malformed("cut off: " + size + " more bytes expected");
        }
    }
}
