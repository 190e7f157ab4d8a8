package dev.rimecast.telemetry.yaml;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Function;

/**
 * How a single value is understood and what it may be.
 *
 * @param <T> what it becomes
 */
public final class YamlType<T> {
    private final String must;
    private final T placeholder;
    private final Function<Scalar, Parsed<T>> parser;

    private YamlType(String must, T placeholder, Function<Scalar, Parsed<T>> parser) {
        this.must = must;
        this.placeholder = placeholder;
        this.parser = parser;
    }

    /** What came of a value. */
    sealed interface Parsed<T> {
        record Good<T>(T value) implements Parsed<T> {}

        /** @param what completes "must be …, found …" */
        record Bad<T>(String what) implements Parsed<T> {}
    }

    /** Text that is not empty. A number or truth value that is meant as text must be in quotes. */
    public static YamlType<String> text() {
        String must = "text";
        return new YamlType<>(must, "?", scalar -> {
            if (!scalar.isText()) {
                return new Parsed.Bad<>("must be text, found " + scalar.described() + ": put it in quotes");
            }
            return scalar.text().isBlank()
                    ? new Parsed.Bad<>("must not be empty: give a value or delete the line")
                    : new Parsed.Good<>(scalar.text());
        });
    }

    public static YamlType<Double> number(Range range) {
        String must = range.toString();
        return new YamlType<>(must, range.placeholder(), scalar -> {
            double value = scalar.isNumber() ? Double.parseDouble(scalar.text()) : Double.NaN;
            return Double.isFinite(value) && range.contains(value) ? new Parsed.Good<>(value) : bad(must, scalar);
        });
    }

    /** A whole number from {@code low} to {@code high}, both included. */
    public static YamlType<Integer> integer(int low, int high) {
        return whole(low, high, Math::toIntExact);
    }

    /** A whole number of any size from {@code low} to {@code high}, both included. */
    public static YamlType<Long> longInteger(long low, long high) {
        return whole(low, high, Long::valueOf);
    }

    private static <N> YamlType<N> whole(long low, long high, Function<Long, N> narrow) {
        String must = "a whole number from " + low + " to " + high;
        return new YamlType<>(must, narrow.apply(low), scalar -> {
            if (!scalar.isWhole() || scalar.text().length() > 19) {
                return bad(must, scalar);
            }
            long value;
            try {
                value = Long.parseLong(scalar.text());
            } catch (NumberFormatException e) {
                return bad(must, scalar); // 19 digits, but beyond a long
            }
            return value >= low && value <= high ? new Parsed.Good<>(narrow.apply(value)) : bad(must, scalar);
        });
    }

    /** {@code 250ms}, {@code 90s}, {@code 15m}, {@code 1h30m}, {@code 30d}, from {@code low} to {@code high}. */
    public static YamlType<Duration> duration(Duration low, Duration high) {
        String must = "a time such as 90s, 15m, 2h or 30d, from " + DurationText.format(low) + " to "
                + DurationText.format(high);
        return new YamlType<>(
                must,
                low,
                scalar -> DurationText.parse(scalar.text())
                        .filter(value -> value.compareTo(low) >= 0 && value.compareTo(high) <= 0)
                        .<Parsed<Duration>>map(Parsed.Good::new)
                        .orElseGet(() -> bad(must, scalar)));
    }

    public static YamlType<Boolean> bool() {
        String must = "true or false";
        return new YamlType<>(
                must,
                false,
                scalar -> scalar.isBool() ? new Parsed.Good<>(Boolean.valueOf(scalar.text())) : bad(must, scalar));
    }

    /** One of an enum's words. */
    public static <E extends Enum<E>> YamlType<E> oneOf(Class<E> type, Function<E, String> word) {
        Map<String, E> words = new LinkedHashMap<>();
        for (E constant : type.getEnumConstants()) {
            words.put(word.apply(constant), constant);
        }
        String must = "one of " + String.join(", ", words.keySet());
        return new YamlType<>(must, type.getEnumConstants()[0], scalar -> {
            E constant = scalar.isText() ? words.get(scalar.text()) : null;
            return constant != null
                    ? new Parsed.Good<>(constant)
                    : new Parsed.Bad<>("must be " + must + ", found " + scalar.described()
                            + NearestKey.hint(scalar.text(), words.keySet()));
        });
    }

    /** What a value must be, as it reads after "must be". */
    public String must() {
        return must;
    }

    /** A legal value to go on with when the document's can't be used, so that all problems are found in one go. */
    T placeholder() {
        return placeholder;
    }

    Parsed<T> parse(Scalar scalar) {
        return parser.apply(scalar);
    }

    private static <T> Parsed<T> bad(String must, Scalar scalar) {
        return new Parsed.Bad<>("must be " + must + ", found " + scalar.described());
    }
}
