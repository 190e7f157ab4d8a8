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
    /** Over by itself, but of a kind that must be looked at and reset; nobody has seen it yet. */
    LATCHED_UNACKNOWLEDGED,
    /** Over by itself and seen, but not reset yet. */
    LATCHED_ACKNOWLEDGED,
    /** Raised, and somebody has put it aside, with a reason and until a moment. */
    SHELVED,
    /** Raised, but something that is known makes it mean nothing: its gateway is down, the bin is full. */
    SUPPRESSED_BY_DESIGN,
    /** Raised on a machine, or of a kind, that was taken out of service. */
    OUT_OF_SERVICE,
    /** Over and seen, or seen and then over. */
    NORMAL;

    private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');

    /** The word for API, database and audit, e.g. {@code returned-unacknowledged}. */
    public String code() {
        return code;
    }

    /** Whether something keeps it from counting. */
    public boolean isHeld() {
        return this == SHELVED || this == SUPPRESSED_BY_DESIGN || this == OUT_OF_SERVICE;
    }

    /** Whether the condition is there now and counts. */
    public boolean isActive() {
        return this == UNACKNOWLEDGED || this == ACKNOWLEDGED;
    }

    /** Whether somebody still has to say that it was seen. */
    public boolean needsEyes() {
        return this == UNACKNOWLEDGED || this == RETURNED_UNACKNOWLEDGED || this == LATCHED_UNACKNOWLEDGED;
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
