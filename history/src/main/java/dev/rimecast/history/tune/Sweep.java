package dev.rimecast.history.tune;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * A number of the policy and the values to try.
 *
 * @param path below {@code all}, e.g. {@code drift.false_alarms_per_machine_year}
 */
public record Sweep(String path, List<Double> values) {

    public Sweep {
        values = List.copyOf(values);
    }

    /**
     * Reads {@code path=value,value}.
     *
     * @throws IllegalArgumentException if it is not that
     */
    public static Sweep parse(String text) {
        int equals = text.indexOf('=');
        List<Double> values = new ArrayList<>();
        try {
            for (String value : text.substring(equals + 1).split(",", -1)) {
                values.add(Double.parseDouble(value.strip()));
            }
        } catch (NumberFormatException e) {
            values.clear();
        }
        if (equals < 1 || values.isEmpty() || values.stream().distinct().count() < values.size()) {
            throw new IllegalArgumentException("a number must be path=value,value with other values each time, such as"
                    + " change.false_alarms_per_machine_year=0.05,0.1,0.2, was '" + text + "'");
        }
        return new Sweep(text.substring(0, equals).strip(), values);
    }

    static String shortest(double value) {
        return value == StrictMath.rint(value) && Math.abs(value) < 1e15
                ? String.format(Locale.ROOT, "%d", (long) value)
                : Double.toString(value);
    }
}
