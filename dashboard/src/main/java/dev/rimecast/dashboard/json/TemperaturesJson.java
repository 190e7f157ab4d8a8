package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.view.RollupPoint;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;

/**
 * Temperatures of one machine, °C, one list per column since plots want columns and names need not be repeated.
 *
 * @param start seconds since 1970-01-01T00:00:00Z of each bucket's beginning
 */
public record TemperaturesJson(
        Instant from,
        Instant to,
        long bucketSeconds,
        List<Long> start,
        List<@Nullable Double> evaporatorMin,
        List<@Nullable Double> evaporatorMean,
        List<@Nullable Double> evaporatorMax,
        List<@Nullable Double> condenserMin,
        List<@Nullable Double> condenserMean,
        List<@Nullable Double> condenserMax,
        List<@Nullable Double> ambientMean,
        List<@Nullable Double> waterMean) {

    public static TemperaturesJson of(Instant from, Instant to, Duration bucket, List<RollupPoint> points) {
        return new TemperaturesJson(
                from,
                to,
                bucket.toSeconds(),
                points.stream().map(point -> point.start().getEpochSecond()).toList(),
                column(points, RollupPoint::evaporatorMin),
                column(points, RollupPoint::evaporatorMean),
                column(points, RollupPoint::evaporatorMax),
                column(points, RollupPoint::condenserMin),
                column(points, RollupPoint::condenserMean),
                column(points, RollupPoint::condenserMax),
                column(points, RollupPoint::ambientMean),
                column(points, RollupPoint::waterMean));
    }

    private static List<@Nullable Double> column(
            List<RollupPoint> points, Function<RollupPoint, OptionalDouble> value) {
        List<@Nullable Double> column = new ArrayList<>(points.size());
        for (RollupPoint point : points) {
            column.add(Rounded.orNull2(value.apply(point)));
        }
        return column;
    }
}
