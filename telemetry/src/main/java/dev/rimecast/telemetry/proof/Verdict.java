package dev.rimecast.telemetry.proof;

import java.util.Locale;
import java.util.Optional;

/** What is thought of a repair. */
public enum Verdict {
    NOT_YET_KNOWN,
    /** Good as far as it goes; what is asked is not over yet. */
    HELD_SO_FAR,
    HELD,
    NOT_HELD;

    private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');

    /** The word of the contract. */
    public String code() {
        return code;
    }

    public static Optional<Verdict> ofCode(String code) {
        for (Verdict value : values()) {
            if (value.code.equals(code)) {
                return Optional.of(value);
            }
        }
        return Optional.empty();
    }
}
