package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.view.TracePoint;
import java.time.Instant;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * Evaporator and condenser of one machine step by step, °C, in columns.
 *
 * @param start seconds since 1970-01-01T00:00:00Z of each step's beginning
 */
public record TraceJson(
        Instant from,
        Instant to,
        long stepSeconds,
        List<Long> start,
        List<@Nullable Double> evaporator,
        List<@Nullable Double> condenser) {
    private static final long STEP_SECONDS = 20;

    public static TraceJson of(Instant from, Instant to, List<TracePoint> points) {
        return new TraceJson(
                from,
                to,
                STEP_SECONDS,
                points.stream().map(point -> point.at().getEpochSecond()).toList(),
                column(points, TracePoint::evaporator),
                column(points, TracePoint::condenser));
    }

    private static List<@Nullable Double> column(List<TracePoint> points, Function<TracePoint, OptionalDouble> value) {
        return points.stream()
                .<@Nullable Double>map(point -> Rounded.orNull2(value.apply(point)))
                .collect(Collectors.toCollection(java.util.ArrayList::new));
    }
}
