package dev.rimecast.telemetry.finding;

import java.util.Locale;
import java.util.Optional;

/** How soon somebody must act, most urgent first. */
public enum Priority {
    URGENT,
    HIGH,
    MEDIUM,
    LOW;

    private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');

    /** The word of the contract. */
    public String code() {
        return code;
    }

    public static Optional<Priority> ofCode(String code) {
        for (Priority value : values()) {
            if (value.code.equals(code)) {
                return Optional.of(value);
            }
        }
        return Optional.empty();
    }
}
