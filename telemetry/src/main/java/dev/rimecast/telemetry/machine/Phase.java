package dev.rimecast.telemetry.machine;

import java.util.Locale;
import java.util.Optional;

/** What a batch machine is doing, as a gateway that knows it says so. The order is part of the log's format. */
public enum Phase {
    WAIT,
    FILL,
    FREEZE,
    HARVEST,
    IDLE,
    CLEAN,
    STOPPED,
    REDUCED,
    OFF;

    private static final Phase[] VALUES = values();

    private final String code = name().toLowerCase(Locale.ROOT);

    /** The word of the contract, lower case. */
    public String code() {
        return code;
    }

    public static Optional<Phase> ofCode(String code) {
        for (Phase phase : VALUES) {
            if (phase.code.equals(code)) {
                return Optional.of(phase);
            }
        }
        return Optional.empty();
    }

    public static Phase ofOrdinal(int ordinal) {
        return VALUES[ordinal];
    }
}
