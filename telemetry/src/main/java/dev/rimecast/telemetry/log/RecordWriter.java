package dev.rimecast.telemetry.log;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/** The elements of the log's format, written one after another. {@link RecordReader} is its mirror. */
final class RecordWriter {
    private byte[] bytes;
    private int length;

    RecordWriter(int expectedBytes) {
        bytes = new byte[expectedBytes];
    }

    byte[] toBytes() {
        return Arrays.copyOf(bytes, length);
    }

    void octet(int value) {
        room(1);
        bytes[length++] = (byte) value;
    }

    /** Seven bits a byte, low ones first, the top bit set on all but the last. */
    void unsigned(long value) {
        room(10);
        long rest = value;
        while ((rest & ~0x7fL) != 0) {
            bytes[length++] = (byte) (rest | 0x80);
            rest >>>= 7;
        }
        bytes[length++] = (byte) rest;
    }

    /** Sign in the lowest bit, so that small negative numbers stay short. */
    void signed(long value) {
        unsigned((value << 1) ^ (value >> 63));
    }

    void float64(double value) {
        room(8);
        long bits = Double.doubleToRawLongBits(value);
        for (int shift = 56; shift >= 0; shift -= 8) {
            bytes[length++] = (byte) (bits >>> shift);
        }
    }

    void text(String text) {
        byte[] utf8 = text.getBytes(StandardCharsets.UTF_8);
        unsigned(utf8.length);
        room(utf8.length);
        System.arraycopy(utf8, 0, bytes, length, utf8.length);
        length += utf8.length;
    }

    /** Whole seconds, then nanoseconds: nothing of the clock's resolution is lost. */
    void instant(Instant at) {
        signed(at.getEpochSecond());
        unsigned(at.getNano());
    }

    void flag(boolean value) {
        octet(value ? 1 : 0);
    }

    void choice(Enum<?> value) {
        octet(value.ordinal());
    }

    void optionalChoice(Optional<? extends Enum<?>> value) {
        flag(value.isPresent());
        value.ifPresent(this::choice);
    }

    void optionalText(Optional<String> value) {
        flag(value.isPresent());
        value.ifPresent(this::text);
    }

    void optionalDate(Optional<LocalDate> value) {
        flag(value.isPresent());
        value.ifPresent(date -> signed(date.toEpochDay()));
    }

    void optionalFloat64(OptionalDouble value) {
        flag(value.isPresent());
        value.ifPresent(this::float64);
    }

    void optionalInt(OptionalInt value) {
        flag(value.isPresent());
        value.ifPresent(this::signed);
    }

    private void room(int more) {
        if (bytes.length - length < more) {
            bytes = Arrays.copyOf(bytes, Math.max(length + more, bytes.length * 2));
        }
    }
}
