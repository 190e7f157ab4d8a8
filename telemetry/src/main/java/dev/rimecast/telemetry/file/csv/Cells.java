package dev.rimecast.telemetry.file.csv;

import java.time.Instant;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/** Values as cells; what is absent is an empty cell. */
public final class Cells {

    private Cells() {}

    public static String of(Optional<?> value) {
        return value.map(Object::toString).orElse("");
    }

    public static String of(OptionalInt value) {
        return value.isPresent() ? Integer.toString(value.getAsInt()) : "";
    }

    /** In the shortest form that reads back the same. */
    public static String of(OptionalDouble value) {
        return value.isPresent() ? Decimals.shortest(value.getAsDouble()) : "";
    }

    /** Rounded half up to that many decimals. */
    public static String fixed(OptionalDouble value, int decimals) {
        return value.isPresent() ? Decimals.fixed(value.getAsDouble(), decimals) : "";
    }

    /** UTC with milliseconds. */
    public static String time(Optional<Instant> value) {
        return value.map(IsoTime::format).orElse("");
    }

    public static String flag(boolean value) {
        return value ? "1" : "0";
    }
}
