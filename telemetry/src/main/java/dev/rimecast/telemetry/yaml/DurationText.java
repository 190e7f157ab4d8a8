package dev.rimecast.telemetry.yaml;

import java.time.Duration;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Lengths of time as people write them: {@code 250ms}, {@code 90s}, {@code 15m}, {@code 1h30m}, {@code 30d}. */
public final class DurationText {
    private static final Pattern WHOLE = Pattern.compile("(\\d{1,9}(ms|s|m|h|d))+");
    private static final Pattern PART = Pattern.compile("(\\d{1,9})(ms|s|m|h|d)");

    private DurationText() {}

    public static Optional<Duration> parse(String text) {
        if (!WHOLE.matcher(text).matches()) {
            return Optional.empty();
        }
        Duration sum = Duration.ZERO;
        Matcher part = PART.matcher(text);
        while (part.find()) {
            sum = sum.plus(of(Long.parseLong(part.group(1)), part.group(2)));
        }
        return Optional.of(sum);
    }

    private static Duration of(long amount, String unit) {
        return switch (unit) {
            case "ms" -> Duration.ofMillis(amount);
            case "s" -> Duration.ofSeconds(amount);
            case "m" -> Duration.ofMinutes(amount);
            case "h" -> Duration.ofHours(amount);
            default -> Duration.ofDays(amount); // the pattern lets only d through
        };
    }

    /** The shortest text that {@link #parse} turns into the same whole milliseconds. */
    public static String format(Duration duration) {
        StringBuilder text = new StringBuilder();
        append(text, duration.toDaysPart(), "d");
        append(text, duration.toHoursPart(), "h");
        append(text, duration.toMinutesPart(), "m");
        append(text, duration.toSecondsPart(), "s");
        append(text, duration.toMillisPart(), "ms");
        return text.length() == 0 ? "0s" : text.toString();
    }

    private static void append(StringBuilder text, long amount, String unit) {
        if (amount != 0) {
            text.append(amount).append(unit);
        }
    }
}
