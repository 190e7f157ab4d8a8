package dev.rimecast.telemetry.senml;

import java.time.Instant;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;

/** SenML CBOR (RFC 8428 section 6) to readings, item by item. Safe for use by many threads. */
public final class SenmlCborDecoder {
    private static final int DECIMAL_FRACTION = 4;
    private static final int FALSE = 20;
    private static final int TRUE = 21;
    private static final int HALF = 25;
    private static final int SINGLE = 26;
    private static final int DOUBLE = 27;
    private static final double TWO_TO_64 = 0x1p64;

    private SenmlCborDecoder() {}

    /**
     * Takes one message apart; a bad record never spoils the good ones.
     *
     * @param payload as it came
     * @param now when it came: what relative times count from
     */
    public static SenmlPack decode(byte[] payload, Instant now) {
        return PackAssembly.decode(payload, now, SenmlCborDecoder::read);
    }

    static void read(byte[] payload, Consumer<RawRecord> records) {
        CborReader in = new CborReader(payload);
        in.nextUntagged();
        if (in.major() != CborReader.ARRAY) {
            throw in.malformed("no array");
        }
        RawRecord raw = new RawRecord();
        long items = in.items();
        for (long i = 0; items < 0 ? !in.takeBreak() : i < items; i++) {
            raw.clear();
            in.nextUntagged();
            if (in.major() == CborReader.MAP) {
                readFields(in, raw);
            } else {
                in.skip();
                raw.notARecord("no CBOR map");
            }
            records.accept(raw);
        }
        if (!in.isAtEnd()) {
            throw in.malformed("something after the array");
        }
    }

    private static void readFields(CborReader in, RawRecord raw) {
        long pairs = in.items();
        for (long i = 0; pairs < 0 ? !in.takeBreak() : i < pairs; i++) {
            @Nullable Label label = readLabel(in);
            in.next();
            if (label == null) {
                in.skip();
            } else {
                readValue(in, raw, label);
            }
        }
    }

    private static @Nullable Label readLabel(CborReader in) {
        in.nextUntagged();
        switch (in.major()) {
            case CborReader.UNSIGNED -> {
                return in.argument() < 0 ? null : Label.ofCbor(in.argument());
            }
            case CborReader.NEGATIVE -> {
                return in.argument() < 0 ? null : Label.ofCbor(-1 - in.argument());
            }
            case CborReader.TEXT -> {
                // Extensions have texts for labels; some producers write all labels so.
                String name = in.text();
                @Nullable Label label = Label.ofJson(name);
                if (label == null) {
                    PackLabels.requireIgnorable(name);
                }
                return label;
            }
            default -> {
                in.skip();
                return null;
            }
        }
    }

    private static void readValue(CborReader in, RawRecord raw, Label label) {
        while (in.major() == CborReader.TAG && in.argument() != DECIMAL_FRACTION) {
            in.next();
        }
        switch (in.major()) {
            case CborReader.UNSIGNED, CborReader.NEGATIVE -> raw.number(label, integer(in));
            case CborReader.TEXT -> raw.text(label, in.text());
            case CborReader.BYTES -> {
                in.skip();
                raw.data(label);
            }
            case CborReader.TAG -> readDecimalFraction(in, raw, label);
            case CborReader.SIMPLE -> readSimple(in, raw, label);
            default -> {
                in.skip();
                raw.other(label);
            }
        }
    }

    private static void readSimple(CborReader in, RawRecord raw, Label label) {
        switch (in.info()) {
            case FALSE -> raw.flag(label, false);
            case TRUE -> raw.flag(label, true);
            case HALF -> raw.number(label, half((int) in.argument()));
            case SINGLE -> raw.number(label, Float.intBitsToFloat((int) in.argument()));
            case DOUBLE -> raw.number(label, Double.longBitsToDouble(in.argument()));
            default -> raw.other(label);
        }
    }

    /** Tag 4: an array of exponent and mantissa, mantissa × 10^exponent (RFC 8949 section 3.4.4). */
    private static void readDecimalFraction(CborReader in, RawRecord raw, Label label) {
        in.next();
        if (in.major() != CborReader.ARRAY || in.items() != 2) {
            in.skip();
            raw.other(label);
            return;
        }
        @Nullable Double exponent = nextInteger(in);
        @Nullable Double mantissa = nextInteger(in);
        if (exponent == null || mantissa == null) {
            raw.other(label);
            return;
        }
        // Beyond 400 either way there is nothing but infinity and nought for a mantissa of 64 bits.
        int power = (int) Math.max(-400, Math.min(400, exponent));
        raw.number(label, Double.parseDouble(mantissa + "e" + power));
    }

    private static @Nullable Double nextInteger(CborReader in) {
        in.next();
        if (in.major() == CborReader.UNSIGNED || in.major() == CborReader.NEGATIVE) {
            return integer(in);
        }
        in.skip();
        return null;
    }

    private static double integer(CborReader in) {
        long argument = in.argument();
        double unsigned = argument >= 0 ? argument : argument + TWO_TO_64;
        return in.major() == CborReader.UNSIGNED ? unsigned : -1 - unsigned;
    }

    /** RFC 8949 appendix D. */
    static double half(int bits) {
        int exponent = bits >> 10 & 0x1f;
        int mantissa = bits & 0x3ff;
        double magnitude = switch (exponent) {
            case 0 -> mantissa * 0x1p-24;
            case 31 -> mantissa == 0 ? Double.POSITIVE_INFINITY : Double.NaN;
            default -> Math.scalb((double) (mantissa + 1024), exponent - 25);
        };
        return (bits & 0x8000) == 0 ? magnitude : -magnitude;
    }
}
