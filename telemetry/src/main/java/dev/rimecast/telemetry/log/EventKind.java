package dev.rimecast.telemetry.log;

import java.util.List;
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
    SITE_ANSWER,
    /** Detail: the ice of one harvest in kg, such as 1.25. */
    HARVEST_WEIGHED;

    /** What a call complains of. */
    public static final List<String> COMPLAINTS =
            List.of("no-ice", "little-ice", "water-in-bin", "water-on-floor", "noise", "smell", "bad-ice");

    private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');

    /** The word of the contract. */
    public String code() {
        return code;
    }

    /** What is wrong with a detail of an event of this kind, in words after "detail"; empty where nothing is. */
    public Optional<String> wrongDetail(String detail) {
        if (this == HARVEST_WEIGHED) {
            return HarvestWeight.kilograms(detail).isPresent()
                    ? Optional.empty()
                    : Optional.of("of a weighed harvest must be its ice in kg, from 0.01 to 50, such as 1.25, found '"
                            + detail + "'");
        }
        return this == CALL && !detail.isEmpty() && !COMPLAINTS.contains(detail)
                ? Optional.of("of a call must be one of " + String.join(", ", COMPLAINTS) + ", found '" + detail + "'")
                : Optional.empty();
    }

    /** What is wrong with an event of this kind that names no machine, in words after "machine"; empty where nothing is. */
    public Optional<String> wrongWithoutMachine() {
        return this == HARVEST_WEIGHED ? Optional.of("is missing: a harvest is that of one machine") : Optional.empty();
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
