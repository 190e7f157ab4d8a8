package dev.rimecast.telemetry.senml;

import org.jspecify.annotations.Nullable;

/** The labels of RFC 8428 table 1; in CBOR the integers of its table 4. The base labels come first. */
enum Label {
    BASE_VERSION("bver", true, Type.NUMBER),
    BASE_NAME("bn", true, Type.TEXT),
    BASE_TIME("bt", true, Type.NUMBER),
    BASE_UNIT("bu", true, Type.TEXT),
    BASE_VALUE("bv", true, Type.NUMBER),
    BASE_SUM("bs", true, Type.NUMBER),
    NAME("n", false, Type.TEXT),
    UNIT("u", false, Type.TEXT),
    VALUE("v", false, Type.NUMBER),
    TEXT_VALUE("vs", false, Type.TEXT),
    FLAG_VALUE("vb", false, Type.FLAG),
    DATA_VALUE("vd", false, Type.DATA),
    SUM("s", false, Type.NUMBER),
    TIME("t", false, Type.NUMBER),
    UPDATE_TIME("ut", false, Type.NUMBER);

    /** What a label's value is. */
    enum Type {
        NUMBER,
        TEXT,
        FLAG,
        /** Bytes: base64 in JSON, a byte string in CBOR. */
        DATA
    }

    private final String json;
    private final boolean base;
    private final Type type;

    Label(String json, boolean base, Type type) {
        this.json = json;
        this.base = base;
        this.type = type;
    }

    String json() {
        return json;
    }

    /** Whether it holds for the records that follow, too. */
    boolean isBase() {
        return base;
    }

    /** Whether it is one of the four kinds of value. */
    boolean isValue() {
        return this == VALUE || this == TEXT_VALUE || this == FLAG_VALUE || this == DATA_VALUE;
    }

    Type type() {
        return type;
    }

    int bit() {
        return 1 << ordinal();
    }

    /** Null for a label that is none of ours: to be ignored, unless it ends in an underscore. */
    static @Nullable Label ofJson(String label) {
        return switch (label) {
            case "bver" -> BASE_VERSION;
            case "bn" -> BASE_NAME;
            case "bt" -> BASE_TIME;
            case "bu" -> BASE_UNIT;
            case "bv" -> BASE_VALUE;
            case "bs" -> BASE_SUM;
            case "n" -> NAME;
            case "u" -> UNIT;
            case "v" -> VALUE;
            case "vs" -> TEXT_VALUE;
            case "vb" -> FLAG_VALUE;
            case "vd" -> DATA_VALUE;
            case "s" -> SUM;
            case "t" -> TIME;
            case "ut" -> UPDATE_TIME;
            default -> null;
        };
    }

    /** RFC 8428 table 4; null for an integer that it doesn't have. */
    static @Nullable Label ofCbor(long label) {
        if (label < -6 || label > 8) {
            return null;
        }
        return switch ((int) label) {
            case -1 -> BASE_VERSION;
            case -2 -> BASE_NAME;
            case -3 -> BASE_TIME;
            case -4 -> BASE_UNIT;
            case -5 -> BASE_VALUE;
            case -6 -> BASE_SUM;
            case 0 -> NAME;
            case 1 -> UNIT;
            case 2 -> VALUE;
            case 3 -> TEXT_VALUE;
            case 4 -> FLAG_VALUE;
            case 5 -> SUM;
            case 6 -> TIME;
            case 7 -> UPDATE_TIME;
            default -> DATA_VALUE;
        };
    }
}
