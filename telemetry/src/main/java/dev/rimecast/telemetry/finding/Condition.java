package dev.rimecast.telemetry.finding;

import java.util.Locale;
import java.util.Optional;

/** What is seen. The order is part of stored formats: new conditions are added at the end. */
public enum Condition {
    SLOW_PULL_DOWN,
    RISING_CONDENSING_TEMPERATURE,
    HIGH_CONDENSING_TEMPERATURE,
    DRAIN_PUMP_OVERRUN,
    LONG_FREEZE,
    SHORT_FREEZE,
    LONG_HARVEST,
    INCOMPLETE_HARVEST,
    SLOW_FILL,
    WATER_USE_HIGH,
    LOW_OUTPUT,
    BELOW_ITS_KIND,
    NOT_MAKING_ICE,
    STOPPED_BY_PROTECTION,
    REPEATED_RESTARTS,
    AMBIENT_OUT_OF_RANGE,
    WATER_OUT_OF_RANGE,
    SENSOR_IMPLAUSIBLE,
    BIN_FULL_IMPLAUSIBLE,
    MACHINE_SILENT,
    GATEWAY_SILENT,
    CLEANING_TOO_LONG,
    CLEANING_DUE,
    AIR_FILTER_DUE,
    WATER_FILTER_DUE,
    LAMP_DUE,
    RESTART_AFTER_IDLE;

    private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');

    /** The code of the contract. */
    public String code() {
        return code;
    }

    /** Planned care: a reminder, never a fault. */
    public boolean isCare() {
        return ordinal() >= CLEANING_DUE.ordinal();
    }

    public static Optional<Condition> ofCode(String code) {
        for (Condition condition : values()) {
            if (condition.code.equals(code)) {
                return Optional.of(condition);
            }
        }
        return Optional.empty();
    }
}
