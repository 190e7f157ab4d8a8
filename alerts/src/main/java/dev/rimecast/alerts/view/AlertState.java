package dev.rimecast.alerts.view;

import java.util.Locale;
import java.util.Optional;

/** Where an alert is in its life, in the words of ISA-18.2 / IEC 62682; screens use plain ones. */
public enum AlertState {
    /** Raised, and nobody has seen it. */
    UNACKNOWLEDGED,
    /** Raised, and somebody has seen it. */
    ACKNOWLEDGED,
    /** Over, but nobody has seen it yet. */
    RETURNED_UNACKNOWLEDGED,
    /** Over and seen, or seen and then over. */
    NORMAL;

    private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');

    /** The word for API, database and audit, e.g. {@code returned-unacknowledged}. */
    public String code() {
        return code;
    }

    public static Optional<AlertState> ofCode(String code) {
        for (AlertState state : values()) {
            if (state.code.equals(code)) {
                return Optional.of(state);
            }
        }
        return Optional.empty();
    }
}
