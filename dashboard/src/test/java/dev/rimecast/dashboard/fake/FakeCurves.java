package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.view.RollupPoint;
import dev.rimecast.alerts.view.TracePoint;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.Cycle.Residual;
import dev.rimecast.telemetry.cycle.Feature;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Random;

/**
 * Cycles and temperatures of a machine whose condenser gets dirty, in plausible numbers: a 25-minute cycle, a split of
 * 14 K when clean, rooms between 20 and 28 °C. For looking at pages, not for judging detection.
 */
final class FakeCurves {
    private static final Duration CYCLE = Duration.ofMinutes(25);
    private final Instant now;
    private final double dirtPerDay;

    /** @param dirtPerDay how much the split grows in a day over the last three weeks, K */
    FakeCurves(Instant now, double dirtPerDay) {
        this.now = now;
        this.dirtPerDay = dirtPerDay;
    }

    List<Cycle> cycles(String machine, Instant from, Instant to) {
        List<Cycle> cycles = new ArrayList<>();
        long step = CYCLE.toSeconds();
        Instant end = to.isBefore(now) ? to : now;
        for (long at = from.getEpochSecond() / step * step + step; at < end.getEpochSecond(); at += step) {
            cycles.add(cycle(machine, Instant.ofEpochSecond(at)));
        }
        return cycles;
    }

    private Cycle cycle(String machine, Instant start) {
        Random noise = new Random(start.getEpochSecond() * 31 + machine.hashCode());
        double ambient = ambient(start);
        double dirt = dirt(start);
        double pullDown = 150 + (ambient - 24) * 4 + dirt * 9 + noise.nextGaussian() * 9;
        double freeze = 1212 + (ambient - 24) * 23 + dirt * 20 + noise.nextGaussian() * 30;
        double harvest = 208 - (ambient - 24) * 2.8 - dirt * 2 + noise.nextGaussian() * 9;
        double split = 14.4 + dirt + noise.nextGaussian() * 0.7;
        boolean complete = noise.nextInt(90) != 0;
        return new Cycle(
                machine,
                start,
                start.plusMillis((long) ((freeze + harvest) * 1000)),
                OptionalDouble.of(pullDown),
                complete ? OptionalDouble.of(freeze) : OptionalDouble.empty(),
                complete ? OptionalDouble.of(harvest) : OptionalDouble.empty(),
                OptionalDouble.of(ambient + split + 1.5),
                OptionalDouble.of(ambient + split),
                OptionalDouble.of(split),
                OptionalDouble.of(-17.2 + noise.nextGaussian() * 0.4),
                OptionalDouble.of(ambient),
                "sensor",
                OptionalDouble.of(15.2),
                "season",
                OptionalInt.of(1),
                OptionalDouble.of(2.6 + dirt * 0.25 + Math.abs(noise.nextGaussian()) * 0.4),
                OptionalDouble.of(4.1 + dirt * 0.25 + Math.abs(noise.nextGaussian()) * 0.4),
                complete,
                List.of(
                        new Residual(Feature.PULL_DOWN, pullDown, 150 + (ambient - 24) * 4, 10),
                        new Residual(Feature.FREEZE, freeze, 1212 + (ambient - 24) * 23, 32),
                        new Residual(Feature.HARVEST, harvest, 208 - (ambient - 24) * 2.8, 10),
                        new Residual(Feature.SPLIT, split, 14.4 - (ambient - 24) * 0.02, 0.8),
                        new Residual(Feature.DRAIN_LEVEL, 2.7, 2.8, 0.5)),
                "1",
                "standard-1",
                Optional.empty());
    }

    List<RollupPoint> temperatures(Instant from, Instant to, Duration bucket) {
        List<RollupPoint> points = new ArrayList<>();
        long step = bucket.toSeconds();
        Instant end = to.isBefore(now) ? to : now;
        for (long at = Math.floorDiv(from.getEpochSecond() + step - 1, step) * step;
                at < end.getEpochSecond();
                at += step) {
            points.add(point(Instant.ofEpochSecond(at), step));
        }
        return points;
    }

    /** Each cycle's own curve: down through 0 °C at its pull-down, to its end, and up again within its harvest. */
    List<TracePoint> trace(String machine, Instant from, Instant to) {
        List<TracePoint> points = new ArrayList<>();
        for (Cycle cycle : cycles(machine, from.minus(CYCLE), to)) {
            double freeze = cycle.freezeSeconds().orElse(900);
            double end = cycle.evaporatorEndCelsius().orElseThrow();
            double pullDown = cycle.pullDownSeconds().orElseThrow();
            double length = Duration.between(cycle.freezeStart(), cycle.end()).toMillis() / 1000.0;
            // where one cycle runs into the next, the next one stands
            long last = Math.min(
                    cycle.end().getEpochSecond(),
                    cycle.freezeStart().plus(CYCLE).getEpochSecond());
            long first = Math.floorDiv(cycle.freezeStart().getEpochSecond() + 19, 20) * 20;
            for (long at = first; at < last; at += 20) {
                Instant time = Instant.ofEpochSecond(at);
                double in = at - cycle.freezeStart().getEpochSecond();
                if (time.isBefore(from) || !time.isBefore(to)) {
                    continue;
                }
                double evaporator = in < pullDown
                        ? 12 * (1 - in / pullDown)
                        : in < freeze
                                ? end * Math.pow((in - pullDown) / (freeze - pullDown), 0.6)
                                : end + (12 - end) * (in - freeze) / Math.max(1, length - freeze);
                double condenser =
                        cycle.condensingMeanCelsius().orElseThrow() + (in < freeze ? 4 * (1 - in / freeze) : -5);
                points.add(new TracePoint(time, OptionalDouble.of(evaporator), OptionalDouble.of(condenser)));
            }
        }
        return points;
    }

    private RollupPoint point(Instant at, long step) {
        double in = at.getEpochSecond() % CYCLE.toSeconds() / (double) CYCLE.toSeconds();
        double evaporator = in < 0.85 ? 10 - 28 * Math.sqrt(in / 0.85) : -18 + 28 * (in - 0.85) / 0.15;
        double mean = step >= CYCLE.toSeconds() ? -8 : evaporator;
        double ambient = ambient(at);
        double condenser = ambient + 14.4 + dirt(at) + (step >= CYCLE.toSeconds() ? 0 : 2 * Math.sin(in * 6));
        return new RollupPoint(
                at,
                OptionalDouble.of(mean - 3),
                OptionalDouble.of(mean),
                OptionalDouble.of(mean + 3),
                OptionalDouble.of(condenser - 1),
                OptionalDouble.of(condenser),
                OptionalDouble.of(condenser + 1),
                OptionalDouble.of(ambient),
                OptionalDouble.empty());
    }

    private double dirt(Instant at) {
        double days = Duration.between(at, now).toMinutes() / 1440.0;
        return Math.max(0, 21 - days) * dirtPerDay;
    }

    private static double ambient(Instant at) {
        double day = at.getEpochSecond() / 86_400.0;
        return 24 + 2.6 * Math.sin(2 * Math.PI * (day - 0.35)) + 1.5 * Math.sin(day / 3.3);
    }
}
