package dev.rimecast.telemetry.senml;

import dev.rimecast.telemetry.reading.RejectReason;
import org.jspecify.annotations.Nullable;

/**
 * The fields of one record as they stand in the payload. One object per pack, filled anew for every record.
 *
 * <p>A misfit in a base field refuses the whole pack, since the records that follow would be read with the base before
 * it: as another machine's, or at another time. Any other misfit spoils this record only.
 */
final class RawRecord {
    private int present;
    private @Nullable BadRecord problem;

    double baseVersion;
    String baseName = "";
    double baseTime;
    String baseUnit = "";
    double baseValue;
    String name = "";
    String unit = "";
    double time;
    double value;
    String textValue = "";
    boolean flagValue;

    void clear() {
        present = 0;
        problem = null;
        name = "";
        unit = "";
        time = 0;
    }

    boolean has(Label label) {
        return (present & label.bit()) != 0;
    }

    /**
     * Whether it is there for its base fields only and measures nothing, as the first record of an example of RFC 8428
     * (section 5.1.7) is.
     */
    boolean isBaseOnly() {
        int base = Label.NAME.bit() - 1;
        return problem == null && present != 0 && (present & ~base) == 0;
    }

    /** How many of the four kinds of value the record has. */
    int values() {
        int values = Label.VALUE.bit() | Label.TEXT_VALUE.bit() | Label.FLAG_VALUE.bit() | Label.DATA_VALUE.bit();
        return Integer.bitCount(present & values);
    }

    /** The first thing that is wrong with this record. */
    @Nullable
    BadRecord problem() {
        return problem;
    }

    void number(Label label, double number) {
        if (!begin(label, Label.Type.NUMBER)) {
            return;
        }
        if (!Double.isFinite(number)) {
            spoil(label, RejectReason.NOT_A_NUMBER, label.json() + " is not a finite number");
            return;
        }
        switch (label) {
            case BASE_VERSION -> baseVersion = number;
            case BASE_TIME -> baseTime = number;
            case BASE_VALUE -> baseValue = number;
            case VALUE -> value = number;
            case TIME -> time = number;
            // Sums and update times are no readings; they are checked and left.
            case BASE_SUM, SUM, UPDATE_TIME -> {}
            case BASE_NAME, BASE_UNIT, NAME, UNIT, TEXT_VALUE, FLAG_VALUE, DATA_VALUE ->
                throw new IllegalArgumentException(label + " is no number");
        }
    }

    void text(Label label, String text) {
        if (!begin(label, Label.Type.TEXT)) {
            return;
        }
        switch (label) {
            case BASE_NAME -> baseName = text;
            case BASE_UNIT -> baseUnit = text;
            case NAME -> name = text;
            case UNIT -> unit = text;
            case TEXT_VALUE -> textValue = text;
            case BASE_VERSION, BASE_TIME, BASE_VALUE, BASE_SUM, VALUE, FLAG_VALUE, DATA_VALUE, SUM, TIME, UPDATE_TIME ->
                throw new IllegalArgumentException(label + " is no text");
        }
    }

    void flag(Label label, boolean flag) {
        if (begin(label, Label.Type.FLAG)) {
            flagValue = flag;
        }
    }

    /** The bytes themselves are not kept: no channel has any. */
    void data(Label label) {
        begin(label, Label.Type.DATA);
    }

    /** A value of a type that no label has: null, an array, an object. */
    void other(Label label) {
        present |= label.bit();
        misfit(label);
    }

    void notARecord(String detail) {
        spoil(Label.NAME, RejectReason.NOT_SENML, detail);
    }

    private boolean begin(Label label, Label.Type type) {
        if (has(label)) {
            RejectReason reason = label.isValue() ? RejectReason.SEVERAL_VALUES : RejectReason.NOT_SENML;
            spoil(label, reason, label.json() + " stands twice in one record");
            return false;
        }
        present |= label.bit();
        if (label.type() != type) {
            misfit(label);
            return false;
        }
        return true;
    }

    private void misfit(Label label) {
        String expected = switch (label.type()) {
            case NUMBER -> "a number";
            case TEXT -> "a text";
            case FLAG -> "true or false";
            case DATA -> "data";
        };
        RejectReason reason = label.isValue() ? RejectReason.WRONG_VALUE_TYPE : RejectReason.NOT_SENML;
        spoil(label, reason, label.json() + " is not " + expected);
    }

    private void spoil(Label label, RejectReason reason, String detail) {
        if (label.isBase()) {
            throw new BadPack(reason, detail);
        }
        if (problem == null) {
            problem = new BadRecord(reason, detail);
        }
    }
}
