package dev.rimecast.telemetry.finding;

import java.util.Locale;
import java.util.Optional;

/** How far it has come, in order. */
public enum Stage {
    EARLY,
    AT_LIMIT,
    STOPPED;

    private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');

    /** The word of the contract. */
    public String code() {
        return code;
    }

    public static Optional<Stage> ofCode(String code) {
        for (Stage value : values()) {
            if (value.code.equals(code)) {
                return Optional.of(value);
            }
        }
        return Optional.empty();
    }
}
