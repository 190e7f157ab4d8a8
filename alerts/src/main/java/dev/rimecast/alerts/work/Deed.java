package dev.rimecast.alerts.work;

import dev.rimecast.telemetry.log.EventKind;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/** What an engineer does at a machine. The codes are part of the API and are stored: they change only by adding. */
public enum Deed {
    CLEANED(Detail.NONE, EventKind.CLEANED),
    /** Scale taken off with acid; a cleaning of the water side. */
    DESCALED(Detail.NONE, EventKind.CLEANED),
    /** Ice of the first batches after cleaning or standing, thrown away. */
    FIRST_BATCHES_DISCARDED(Detail.NONE, null),
    AIR_FILTER_WASHED(Detail.NONE, EventKind.AIR_FILTER_WASHED),
    WATER_FILTER_CHANGED(Detail.NONE, EventKind.WATER_FILTER_CHANGED),
    LAMP_CHANGED(Detail.NONE, EventKind.LAMP_CHANGED),
    PART_REPLACED(Detail.PART, EventKind.PART_REPLACED),
    SENSOR_REPLACED(Detail.SENSOR, EventKind.SENSOR_REPLACED),
    CONTROLLER_REPLACED(Detail.NONE, EventKind.CONTROLLER_REPLACED),
    /** Set, aligned, tightened, put back as it belongs. */
    ADJUSTED(Detail.WORDS, null),
    /** Detection takes a charge for a part: the event is a part replaced, "refrigerant charge". */
    REFRIGERANT_RECOVERED(Detail.REFRIGERANT, EventKind.PART_REPLACED),
    REFRIGERANT_ADDED(Detail.REFRIGERANT, EventKind.PART_REPLACED),
    SITE_INSTRUCTED(Detail.WORDS, null),
    /** Only looked; stands alone. */
    NOTHING(Detail.NONE, null);

    /** The sensors that can be named. */
    public static final List<String> SENSORS =
            List.of("evaporator", "condenser", "ambient", "water", "bin", "drain-level");

    /** What goes with it. */
    enum Detail {
        NONE,
        /** Words, which may be left out. */
        WORDS,
        PART,
        SENSOR,
        REFRIGERANT
    }

    private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');
    private final Detail detail;
    private final Optional<EventKind> event;

    Deed(Detail detail, @Nullable EventKind event) {
        this.detail = detail;
        this.event = Optional.ofNullable(event);
    }

    public String code() {
        return code;
    }

    Detail detail() {
        return detail;
    }

    /** What the site's log is told; absent where no kind of event says it. */
    Optional<EventKind> event() {
        return event;
    }

    public boolean isRefrigerant() {
        return detail == Detail.REFRIGERANT;
    }

    public static Optional<Deed> ofCode(String code) {
        for (Deed deed : values()) {
            if (deed.code.equals(code)) {
                return Optional.of(deed);
            }
        }
        return Optional.empty();
    }
}
