package dev.rimecast.telemetry.senml;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;

/** Writes CBOR (RFC 8949) item by item, with the shortest head that holds the number. */
final class CborWriter {
    private final ByteArrayOutputStream bytes;

    CborWriter(int expectedBytes) {
        bytes = new ByteArrayOutputStream(expectedBytes);
    }

    byte[] toBytes() {
        return bytes.toByteArray();
    }

    void array(int items) {
        head(CborReader.ARRAY, items);
    }

    void map(int pairs) {
        head(CborReader.MAP, pairs);
    }

    void text(String text) {
        byte[] utf8 = text.getBytes(StandardCharsets.UTF_8);
        head(CborReader.TEXT, utf8.length);
        bytes.writeBytes(utf8);
    }

    void flag(boolean value) {
        bytes.write(value ? 0xf5 : 0xf4);
    }

    void integer(long value) {
        if (value >= 0) {
            head(CborReader.UNSIGNED, value);
        } else {
            head(CborReader.NEGATIVE, -1 - value);
        }
    }

    /** A whole number as an integer, else as the shorter float that has exactly the same value. */
    void number(double value) {
        long whole = (long) value;
        float single = (float) value;
        if (sameBits(whole, value)) {
            integer(whole);
        } else if (sameBits(single, value)) {
            bytes.write(0xfa);
            bigEndian(Float.floatToRawIntBits(single), 4);
        } else {
            bytes.write(0xfb);
            bigEndian(Double.doubleToRawLongBits(value), 8);
        }
    }

    private static boolean sameBits(double a, double b) {
        return Double.doubleToRawLongBits(a) == Double.doubleToRawLongBits(b);
    }

    private void head(int major, long argument) {
        if (argument < 24) {
            bytes.write(major << 5 | (int) argument);
            return;
        }
        int width = argument <= 0xff ? 0 : argument <= 0xffff ? 1 : argument <= 0xffff_ffffL ? 2 : 3;
        bytes.write(major << 5 | 24 + width);
        bigEndian(argument, 1 << width);
    }

    private void bigEndian(long value, int octets) {
        for (int shift = 8 * (octets - 1); shift >= 0; shift -= 8) {
            bytes.write((int) (value >>> shift));
        }
    }
}
