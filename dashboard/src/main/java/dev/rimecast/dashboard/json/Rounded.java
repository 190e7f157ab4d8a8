package dev.rimecast.dashboard.json;

import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;

/** Numbers as they are written: as many decimals as the sensors deserve, and absent as JSON null. */
final class Rounded {
    private Rounded() {}

    static double to1(double value) {
        return Math.round(value * 10) / 10.0;
    }

    static double to2(double value) {
        return Math.round(value * 100) / 100.0;
    }

    static double to3(double value) {
        return Math.round(value * 1000) / 1000.0;
    }

    static @Nullable Double orNull1(OptionalDouble value) {
        return value.isPresent() ? to1(value.getAsDouble()) : null;
    }

    static @Nullable Double orNull2(OptionalDouble value) {
        return value.isPresent() ? to2(value.getAsDouble()) : null;
    }
}
