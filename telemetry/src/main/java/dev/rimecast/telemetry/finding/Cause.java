package dev.rimecast.telemetry.finding;

import java.util.Locale;
import java.util.Optional;

/** What is probably wrong. The order is part of stored formats: new causes are added at the end. */
public enum Cause {
    AIRFLOW_RESTRICTED(Origin.SITE),
    HOT_AIR_RECIRCULATING(Origin.SITE),
    ROOM_TOO_HOT(Origin.SITE),
    ROOM_TOO_COLD(Origin.SITE),
    WATER_SUPPLY_LOW(Origin.SITE),
    CURTAIN_MISPLACED(Origin.SITE),
    SPRAY_UNIT_MISPLACED(Origin.SITE),
    SUMP_PLUG_OFF(Origin.SITE),
    WASTE_HOSE_KINKED(Origin.SITE),
    LEFT_IN_CLEANING(Origin.SITE),
    POWER_OFF(Origin.SITE),
    START_DELAY_SET(Origin.SITE),
    SCALE(Origin.WEAR),
    CIRCULATION_PUMP_WEAK(Origin.WEAR),
    SPRAY_JETS_BLOCKED(Origin.WEAR),
    FAN_WEAK(Origin.WEAR),
    DRAIN_BLOCKED(Origin.WEAR),
    LEVEL_PROBES_FOULED(Origin.WEAR),
    FAN_FAILED(Origin.PART),
    INLET_VALVE_LEAKING(Origin.PART),
    HOT_GAS_VALVE_LEAKING(Origin.PART),
    HOT_GAS_VALVE_NOT_OPENING(Origin.PART),
    DUMP_VALVE_LEAKING(Origin.PART),
    DRAIN_PUMP_FAILED(Origin.PART),
    COMPRESSOR_WEAK(Origin.PART),
    COMPRESSOR_NOT_STARTING(Origin.PART),
    CONTROLLER_FAILED(Origin.PART),
    EVAPORATOR_SENSOR_FAILED(Origin.PART),
    EVAPORATOR_SENSOR_LOOSE(Origin.PART),
    CONDENSER_SENSOR_FAILED(Origin.PART),
    BIN_SENSOR_FAILED(Origin.PART),
    PROBES_SWAPPED(Origin.PART),
    LOW_CHARGE(Origin.CIRCUIT),
    REFRIGERANT_RESTRICTION(Origin.CIRCUIT),
    AIR_IN_CIRCUIT_OR_OVERCHARGED(Origin.CIRCUIT),
    GATEWAY_LINK_DOWN(Origin.LINK),
    /**
     * The group plug off, dump valve, curtain, spray unit, where the evidence can't split it. Its origin is the site's:
     * what the site can check first.
     */
    WATER_LOSS(Origin.SITE);

    /** Who can mend it first. */
    public enum Origin {
        /** No engineer needed at first. */
        SITE,
        WEAR,
        PART,
        /** The refrigerant circuit: a certified person. */
        CIRCUIT,
        LINK;

        public String code() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');
    private final Origin origin;

    Cause(Origin origin) {
        this.origin = origin;
    }

    /** The code of the contract. */
    public String code() {
        return code;
    }

    public Origin origin() {
        return origin;
    }

    public static Optional<Cause> ofCode(String code) {
        for (Cause cause : values()) {
            if (cause.code.equals(code)) {
                return Optional.of(cause);
            }
        }
        return Optional.empty();
    }
}
