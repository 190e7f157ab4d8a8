package dev.rimecast.analytics.state;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Writes a monitor's memory. What is written is exact: a restored monitor decides as one that never stopped, so
 * a {@code double} keeps all its bits. Whole numbers are zigzag variable-length (as in Protocol Buffers).
 */
public final class StateWriter {
    static final VarHandle LONG = MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.BIG_ENDIAN);
    static final VarHandle INT = MethodHandles.byteArrayViewVarHandle(int[].class, ByteOrder.BIG_ENDIAN);

    private byte[] bytes = new byte[1024];
    private int size;
    private long lastTime;

    public StateWriter u8(int value) {
        room(1);
        bytes[size++] = (byte) value;
        return this;
    }

    public StateWriter flag(boolean value) {
        return u8(value ? 1 : 0);
    }

    /** Any whole number; small magnitudes take few bytes. */
    public StateWriter whole(long value) {
        return variable(zigzag(value));
    }

    /**
     * A time in milliseconds, or {@link Long#MIN_VALUE} for none. Times that are written one after the other are mostly close,
     * so each takes only the bytes of its distance from the last one.
     */
    public StateWriter time(long millis) {
        if (millis == Long.MIN_VALUE) {
            return variable(0);
        }
        long distance = zigzag(millis - lastTime);
        lastTime = millis;
        return variable(distance + 1);
    }

    private static long zigzag(long value) {
        return (value << 1) ^ (value >> 63);
    }

    private StateWriter variable(long value) {
        room(10);
        long rest = value;
        while ((rest & ~0x7FL) != 0) {
            bytes[size++] = (byte) (rest & 0x7F | 0x80);
            rest >>>= 7;
        }
        bytes[size++] = (byte) rest;
        return this;
    }

    public StateWriter real(double value) {
        room(8);
        LONG.set(bytes, size, Double.doubleToRawLongBits(value));
        size += 8;
        return this;
    }

    public StateWriter short16(short value) {
        return u8(value >> 8).u8(value);
    }

    /** For values that are kept as {@code float} in memory, too: nothing is rounded here. */
    public StateWriter real32(float value) {
        room(4);
        INT.set(bytes, size, Float.floatToRawIntBits(value));
        size += 4;
        return this;
    }

    /** A measured value: exact, and short where it has at most three decimals, as sensors have. */
    public StateWriter measured(double value) {
        long thousandths = Math.round(value * 1000);
        boolean isShort = Math.abs(thousandths) < 1_000_000_000L
                && Double.doubleToRawLongBits(thousandths / 1000.0) == Double.doubleToRawLongBits(value);
        if (isShort) {
            return whole(thousandths << 1);
        }
        return whole(1).real(value);
    }

    public StateWriter text(String value) {
        return block(value.getBytes(StandardCharsets.UTF_8));
    }

    /** Bytes of another format, with their length before them. */
    public StateWriter block(byte[] value) {
        whole(value.length);
        room(value.length);
        System.arraycopy(value, 0, bytes, size, value.length);
        size += value.length;
        return this;
    }

    public StateWriter optionalText(Optional<String> value) {
        flag(value.isPresent());
        value.ifPresent(this::text);
        return this;
    }

    public StateWriter optionalReal(OptionalDouble value) {
        flag(value.isPresent());
        value.ifPresent(this::real);
        return this;
    }

    public int size() {
        return size;
    }

    public byte[] toBytes() {
        return Arrays.copyOf(bytes, size);
    }

    /** Forgets what was written, keeps the buffer. */
    public StateWriter restart() {
        size = 0;
        lastTime = 0;
        return this;
    }

    private void room(int more) {
        if (size + more > bytes.length) {
            bytes = Arrays.copyOf(bytes, Math.max(bytes.length * 2, size + more));
        }
    }
}
