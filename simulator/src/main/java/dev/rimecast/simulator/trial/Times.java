package dev.rimecast.simulator.trial;

import dev.rimecast.simulator.physics.Noise;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;

/** Random times within a run. */
final class Times {
    private final Instant from;
    private final Instant to;

    Times(Instant from, Instant to) {
        this.from = from;
        this.to = to;
    }

    /** Times at random, so far apart on average, days; none on the last day. */
    List<Instant> every(Noise noise, double daysBetween) {
        List<Instant> times = new ArrayList<>();
        double last = Duration.between(from, to).toMinutes() / 1440.0 - 1;
        double at = next(noise, daysBetween);
        while (at < last) {
            times.add(from.plus(hours(at * 24)));
            at += next(noise, daysBetween);
        }
        return times;
    }

    private static double next(Noise noise, double daysBetween) {
        return -daysBetween * StrictMath.log(1 - noise.uniform());
    }

    /** At some time of the same day at which people work. */
    static Instant byDay(Noise noise, Instant at) {
        return at.truncatedTo(ChronoUnit.DAYS).plus(hours(noise.uniform(9, 16)));
    }

    static Duration hours(double hours) {
        return Duration.ofMinutes(StrictMath.round(hours * 60));
    }
}
