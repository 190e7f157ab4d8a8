package dev.rimecast.telemetry.proof;

import java.util.Locale;
import java.util.Optional;

/** How far a repair has been looked at, in order. */
public enum Check {
    /** The cycles right after the work, one by one. */
    FIRST_CYCLES,
    TEN_CYCLES,
    SEVEN_DAYS,
    THIRTY_DAYS;

    private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');

    /** The word of the contract. */
    public String code() {
        return code;
    }

    public static Optional<Check> ofCode(String code) {
        for (Check value : values()) {
            if (value.code.equals(code)) {
                return Optional.of(value);
            }
        }
        return Optional.empty();
    }
}
