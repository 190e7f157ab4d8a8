package dev.rimecast.analytics.state;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;

/** Reads what {@link StateWriter} wrote, in the same order. */
public final class StateReader {
    private final byte[] bytes;
    private int position;
    private long lastTime;
    private int layout = Integer.MAX_VALUE;

    public StateReader(byte[] bytes) {
        this.bytes = bytes;
    }

    void readAs(int version) {
        layout = version;
    }

    /** Whether what is read was written in this version of its layout or a later one. */
    public boolean hasLayout(int version) {
        return layout >= version;
    }

    /** @throws IllegalStateException if the bytes end too early */
    public int u8() {
        if (position >= bytes.length) {
            throw new IllegalStateException("the state ends at byte " + position + " in the middle of a value");
        }
        return bytes[position++] & 0xFF;
    }

    public boolean flag() {
        return u8() != 0;
    }

    public long whole() {
        return unzigzag(variable());
    }

    /** See {@link StateWriter#time}. */
    public long time() {
        long coded = variable();
        if (coded == 0) {
            return Long.MIN_VALUE;
        }
        lastTime += unzigzag(coded - 1);
        return lastTime;
    }

    private static long unzigzag(long value) {
        return (value >>> 1) ^ -(value & 1);
    }

    private long variable() {
        long value = 0;
        for (int shift = 0; ; shift += 7) {
            int next = u8();
            value |= (long) (next & 0x7F) << shift;
            if ((next & 0x80) == 0) {
                return value;
            }
        }
    }

    public int wholeInt() {
        return Math.toIntExact(whole());
    }

    public double real() {
        return Double.longBitsToDouble((long) StateWriter.LONG.get(bytes, ahead(8)));
    }

    public short short16() {
        return (short) (u8() << 8 | u8());
    }

    public float real32() {
        return Float.intBitsToFloat((int) StateWriter.INT.get(bytes, ahead(4)));
    }

    public double measured() {
        long coded = whole();
        return coded == 1 ? real() : (coded >> 1) / 1000.0;
    }

    public String text() {
        return new String(block(), StandardCharsets.UTF_8);
    }

    /** @throws IllegalStateException if fewer bytes are left than it says */
    public byte[] block() {
        int length = wholeInt();
        if (length < 0 || length > bytes.length - position) {
            throw new IllegalStateException("the state ends in the middle of a block of " + length + " bytes");
        }
        byte[] value = Arrays.copyOfRange(bytes, position, position + length);
        position += length;
        return value;
    }

    public Optional<String> optionalText() {
        return flag() ? Optional.of(text()) : Optional.empty();
    }

    public OptionalDouble optionalReal() {
        return flag() ? OptionalDouble.of(real()) : OptionalDouble.empty();
    }

    public boolean atEnd() {
        return position == bytes.length;
    }

    /** Where the next {@code length} bytes begin, which are then behind. */
    private int ahead(int length) {
        int from = position;
        if (length > bytes.length - from) {
            throw new IllegalStateException("the state ends at byte " + bytes.length + " in the middle of a value");
        }
        position = from + length;
        return from;
    }
}
