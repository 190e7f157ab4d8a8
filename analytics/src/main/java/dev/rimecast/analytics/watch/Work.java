package dev.rimecast.analytics.watch;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.log.EventKind;
import java.util.EnumSet;
import java.util.Locale;
import java.util.Set;

/**
 * What recorded work touches, so that only that is learned anew.
 *
 * @param features whose level may be another one now
 * @param spread by about how much, in shares of the model group's spread between machines
 */
public record Work(Set<Feature> features, double spread) {
    /** What a visit says of a machine with which nothing was wrong. */
    public static final String NOTHING_FOUND = "nothing-found";

    private static final Set<Feature> NOTHING = EnumSet.noneOf(Feature.class);
    private static final Set<Feature> EVERYTHING = EnumSet.allOf(Feature.class);
    private static final Set<Feature> DRAIN = EnumSet.of(Feature.DRAIN_LEVEL, Feature.DRAIN_RUN);
    private static final Set<Feature> FREEZING =
            EnumSet.of(Feature.PULL_DOWN, Feature.FREEZE, Feature.HARVEST, Feature.EVAPORATOR_END);

    /** What may have changed all that it does. */
    static final Work ON_EVERYTHING = new Work(EVERYTHING, 0.5);

    public Work {
        features = Set.copyOf(features);
    }

    /** Whether the event is work on the machine at all. */
    public static boolean isWork(EventKind kind) {
        return switch (kind) {
            case VISIT,
                    CLEANED,
                    AIR_FILTER_WASHED,
                    WATER_FILTER_CHANGED,
                    PART_REPLACED,
                    SENSOR_REPLACED,
                    CONTROLLER_REPLACED,
                    MOVED,
                    EXCHANGED -> true;
            case CALL, LAMP_CHANGED, CLOSED_FROM, CLOSED_TO, SITE_ANSWER, HARVEST_WEIGHED -> false;
        };
    }

    /** Whether the amount of refrigerant is another one now. */
    public static boolean isOfCharge(EventKind kind, String detail) {
        return kind == EventKind.PART_REPLACED && isCharge(detail.toLowerCase(Locale.ROOT));
    }

    private static boolean isCharge(String part) {
        return part.contains("charge") || part.contains("refrigerant");
    }

    /** Whether it takes an engineer. */
    public static boolean isOfEngineer(EventKind kind) {
        return switch (kind) {
            case VISIT, PART_REPLACED, SENSOR_REPLACED, CONTROLLER_REPLACED, MOVED, EXCHANGED -> true;
            case CLEANED,
                    AIR_FILTER_WASHED,
                    WATER_FILTER_CHANGED,
                    CALL,
                    LAMP_CHANGED,
                    CLOSED_FROM,
                    CLOSED_TO,
                    SITE_ANSWER,
                    HARVEST_WEIGHED -> false;
        };
    }

    /**
     * A cleaning and a washed filter bring back what was normal, so they change nothing of it; a part may change what it is
     * part of.
     */
    static Work of(EventKind kind, String detail) {
        return switch (kind) {
            case CALL,
                    VISIT,
                    CLEANED,
                    AIR_FILTER_WASHED,
                    LAMP_CHANGED,
                    CLOSED_FROM,
                    CLOSED_TO,
                    SITE_ANSWER,
                    HARVEST_WEIGHED -> new Work(NOTHING, 0);
            case WATER_FILTER_CHANGED -> new Work(EnumSet.of(Feature.FILL), 0.5);
            case PART_REPLACED -> ofPart(detail.toLowerCase(Locale.ROOT));
            case SENSOR_REPLACED -> ofSensor(detail.toLowerCase(Locale.ROOT));
            case CONTROLLER_REPLACED -> new Work(FREEZING, 0.5);
            case MOVED -> ON_EVERYTHING;
            case EXCHANGED -> new Work(EVERYTHING, 1);
        };
    }

    private static Work ofPart(String part) {
        if (part.contains("drain") || part.contains("hose") || part.contains("level")) {
            return new Work(DRAIN, 0.5);
        }
        if (part.contains("fan") || part.contains("condenser")) {
            return new Work(EnumSet.of(Feature.SPLIT), 0.4);
        }
        if (part.contains("inlet") || part.contains("filter")) {
            return new Work(EnumSet.of(Feature.FILL), 0.5);
        }
        if (part.contains("sensor") || part.contains("probe")) {
            return ofSensor(part);
        }
        if (part.contains("compressor") || isCharge(part)) {
            Set<Feature> all = EnumSet.copyOf(FREEZING);
            all.add(Feature.SPLIT);
            return new Work(all, 0.4);
        }
        return new Work(FREEZING, 0.2);
    }

    private static Work ofSensor(String sensor) {
        if (sensor.contains("evaporator")) {
            return new Work(FREEZING, 0.3);
        }
        if (sensor.contains("condenser") || sensor.contains("ambient")) {
            return new Work(EnumSet.of(Feature.SPLIT), 0.5);
        }
        return new Work(NOTHING, 0);
    }
}
