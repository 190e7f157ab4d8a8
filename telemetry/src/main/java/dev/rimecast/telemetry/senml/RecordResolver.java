package dev.rimecast.telemetry.senml;

import dev.rimecast.telemetry.reading.RejectReason;
import org.jspecify.annotations.Nullable;

/**
 * Applies the base fields (RFC 8428 section 4.6). One per pack; the records come in the pack's order. A base field holds
 * from its record on until another replaces it, also when its record is a bad one.
 */
final class RecordResolver {
    /** Below this a time is relative to now, from here on it is absolute: 2^28 s (RFC 8428 section 4.5.3). */
    static final double ABSOLUTE_FROM_SECONDS = 1 << 28;

    /** The version of RFC 8428, and what a pack has that names none. */
    static final int PLAIN_VERSION = 10;
    /** 10 with feature 4, secondary units: 10 + 2^4 (RFC 9100). */
    static final int SECONDARY_UNITS_VERSION = 26;

    /** 9999-12-31T23:59:59.999Z, the last time that ISO 8601 writes with four digits of the year. */
    private static final long LAST_MILLIS = 253_402_300_799_999L;

    private final long nowMillis;
    private String baseName = "";
    private double baseTime;
    private String baseUnit = "";
    private double baseValue;
    private int version;

    /** @param nowMillis what relative times count from */
    RecordResolver(long nowMillis) {
        this.nowMillis = nowMillis;
    }

    /**
     * Takes over the base fields of the next record.
     *
     * @throws BadPack if the base version is not one for the whole pack, or is not supported
     */
    void takeBase(RawRecord raw) {
        if (raw.has(Label.BASE_NAME)) {
            baseName = raw.baseName;
        }
        if (raw.has(Label.BASE_TIME)) {
            baseTime = raw.baseTime;
        }
        if (raw.has(Label.BASE_UNIT)) {
            baseUnit = raw.baseUnit;
        }
        if (raw.has(Label.BASE_VALUE)) {
            baseValue = raw.baseValue;
        }
        if (version == 0) {
            version = raw.has(Label.BASE_VERSION) ? supported(raw.baseVersion) : PLAIN_VERSION;
        } else if (raw.has(Label.BASE_VERSION) && raw.baseVersion != version) {
            throw new BadPack(
                    RejectReason.BAD_BASE_VERSION,
                    "bver " + raw.baseVersion + " in a pack of bver " + version
                            + ": all records of a pack have the same (RFC 8428 section 4.1)");
        }
    }

    /**
     * One record with its base fields applied, which {@link #takeBase} has to have seen.
     *
     * @throws BadRecord if this record has to be left out
     */
    SenmlRecord resolve(RawRecord raw) {
        @Nullable BadRecord problem = raw.problem();
        if (problem != null) {
            throw problem;
        }
        requireName(raw);
        SenmlValue value = valueOf(raw);
        boolean ownUnit = !raw.unit.isEmpty();
        return new SenmlRecord(
                baseName, raw.name, ownUnit ? raw.unit : baseUnit, ownUnit, timeMillisOf(raw), value, version);
    }

    private static int supported(double version) {
        boolean plain = version >= 1 && version <= PLAIN_VERSION && version == Math.rint(version);
        if (!plain && version != SECONDARY_UNITS_VERSION) {
            throw new BadPack(
                    RejectReason.BAD_BASE_VERSION, "bver " + version + " is not supported: 10, or 26 (RFC 9100)");
        }
        return (int) version;
    }

    private void requireName(RawRecord raw) {
        if (raw.name.isEmpty() && baseName.isEmpty()) {
            throw new BadRecord(RejectReason.NO_NAME, "neither bn nor n");
        }
    }

    private SenmlValue valueOf(RawRecord raw) {
        int values = raw.values();
        if (values > 1) {
            throw new BadRecord(RejectReason.SEVERAL_VALUES, "more than one of v, vs, vb, vd");
        }
        if (values == 0) {
            if (raw.has(Label.SUM)) {
                return new SenmlValue.SumOnly();
            }
            throw new BadRecord(RejectReason.NO_VALUE, "none of v, vs, vb, vd");
        }
        if (raw.has(Label.VALUE)) {
            double value = baseValue + raw.value;
            if (!Double.isFinite(value)) {
                throw new BadRecord(RejectReason.NOT_A_NUMBER, "bv + v is beyond a double");
            }
            return new SenmlValue.Number(value);
        }
        if (raw.has(Label.TEXT_VALUE)) {
            return new SenmlValue.Text(raw.textValue);
        }
        return raw.has(Label.FLAG_VALUE) ? new SenmlValue.Flag(raw.flagValue) : new SenmlValue.Data();
    }

    /** It is the sum that decides whether a time is relative: a base time with a negative offset is not. */
    private long timeMillisOf(RawRecord raw) {
        double seconds = baseTime + raw.time;
        // Math.round saturates, so that the sum of two longs of this size cannot overflow before it is checked.
        double millis = (seconds < ABSOLUTE_FROM_SECONDS ? nowMillis : 0) + (double) Math.round(seconds * 1000);
        if (!(millis >= 0 && millis <= LAST_MILLIS)) {
            throw new BadRecord(RejectReason.OUT_OF_RANGE, "bt + t of " + seconds + " s is no time from 1970 to 9999");
        }
        return (long) millis;
    }
}
