package dev.rimecast.alerts;

import dev.rimecast.telemetry.log.EventKind;

/** Details of events as people report them. */
final class EventDetails {
    private EventDetails() {}

    /** What a kind must say, where it must say anything. */
    static String of(EventKind kind) {
        return switch (kind) {
            case CALL -> "little-ice";
            case VISIT -> "airflow-restricted";
            case PART_REPLACED -> "fan motor";
            case CLOSED_FROM -> "2027-03-01";
            case SITE_ANSWER -> "air-filter:was-full";
            case HARVEST_WEIGHED -> "1.25";
            case CLEANED,
                    AIR_FILTER_WASHED,
                    WATER_FILTER_CHANGED,
                    LAMP_CHANGED,
                    SENSOR_REPLACED,
                    CONTROLLER_REPLACED,
                    MOVED,
                    EXCHANGED,
                    CLOSED_TO -> "";
        };
    }
}
