package dev.rimecast.telemetry.log;

import java.util.OptionalDouble;
import java.util.regex.Pattern;

/** The detail of an event {@code harvest-weighed}: the ice of one harvest, kg. */
public final class HarvestWeight {
    private static final Pattern DECIMAL = Pattern.compile("\\d{1,2}(\\.\\d{1,3})?");
    private static final double LEAST = 0.01;
    /** Machines of 150 kg a day drop 3 kg at most [common practice]. */
    private static final double MOST = 50;

    private HarvestWeight() {}

    /** Empty for what is no weight of a harvest. */
    public static OptionalDouble kilograms(String detail) {
        if (!DECIMAL.matcher(detail).matches()) {
            return OptionalDouble.empty();
        }
        double kg = Double.parseDouble(detail);
        return kg >= LEAST && kg <= MOST ? OptionalDouble.of(kg) : OptionalDouble.empty();
    }
}
