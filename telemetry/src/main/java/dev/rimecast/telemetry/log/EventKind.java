package dev.rimecast.telemetry.log;

import java.util.Locale;
import java.util.Optional;

/** What people report. The order is part of the log's format: new kinds are added at the end. */
public enum EventKind {
    CALL,
    VISIT,
    CLEANED,
    AIR_FILTER_WASHED,
    WATER_FILTER_CHANGED,
    LAMP_CHANGED,
    PART_REPLACED,
    SENSOR_REPLACED,
    CONTROLLER_REPLACED,
    MOVED,
    EXCHANGED,
    CLOSED_FROM,
    CLOSED_TO,
    SITE_ANSWER;

    private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');

    /** The word of the contract. */
    public String code() {
        return code;
    }

    public static Optional<EventKind> ofCode(String code) {
        for (EventKind kind : values()) {
            if (kind.code.equals(code)) {
                return Optional.of(kind);
            }
        }
        return Optional.empty();
    }
}
