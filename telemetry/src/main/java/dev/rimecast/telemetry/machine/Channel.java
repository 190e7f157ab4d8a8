package dev.rimecast.telemetry.machine;

import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * What a gateway can say about a machine. Units are those of the SenML units registry (RFC 8428 section 12.1).
 * The order is part of the log's format: new channels are added at the end.
 */
public enum Channel {
    EVAPORATOR_TEMPERATURE("Cel", Kind.NUMBER),
    CONDENSER_TEMPERATURE("Cel", Kind.NUMBER),
    AMBIENT_TEMPERATURE("Cel", Kind.NUMBER),
    WATER_TEMPERATURE("Cel", Kind.NUMBER),
    SUPPLY_CURRENT("A", Kind.NUMBER),
    PHASE("", Kind.PHASE),
    CONTROLLER_STATUS("", Kind.TEXT),
    BIN_FULL("", Kind.FLAG),
    DRAIN_LEVEL("", Kind.FLAG),
    FREEZE_TIME("s", Kind.DURATION),
    HARVEST_TIME("s", Kind.DURATION),
    PULL_DOWN_TIME("s", Kind.DURATION),
    FILL_TIME("s", Kind.DURATION),
    DRAIN_LEVEL_TIME("s", Kind.DURATION),
    DRAIN_RUN_TIME("s", Kind.DURATION),
    WATER_VOLUME("m3", Kind.COUNTER),
    ICE_MASS("kg", Kind.COUNTER);

    /** How a value is written and read. */
    public enum Kind {
        /** A measured quantity. */
        NUMBER,
        /** A length of time that ended at the reading's time, in seconds, never negative. */
        DURATION,
        /** A total that only grows, until its meter is replaced. */
        COUNTER,
        /** True or false. */
        FLAG,
        /** One of {@link Phase}. */
        PHASE,
        /** The machine's own words. */
        TEXT
    }

    private static final Channel[] VALUES = values();
    private static final Map<String, Channel> BY_CODE =
            Stream.of(VALUES).collect(Collectors.toUnmodifiableMap(Channel::code, Function.identity()));

    private final String code = name().toLowerCase(Locale.ROOT);
    private final String unit;
    private final Kind kind;

    Channel(String unit, Kind kind) {
        this.unit = unit;
        this.kind = kind;
    }

    /** The name of the contract, lower case: column in a log, last part of a SenML name. */
    public String code() {
        return code;
    }

    /** SenML unit, empty where the channel has none. */
    public String unit() {
        return unit;
    }

    public Kind kind() {
        return kind;
    }

    public static Optional<Channel> ofCode(String code) {
        return Optional.ofNullable(BY_CODE.get(code));
    }

    public static Channel ofOrdinal(int ordinal) {
        return VALUES[ordinal];
    }

    public static int count() {
        return VALUES.length;
    }
}
