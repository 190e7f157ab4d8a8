package dev.rimecast.alerts.view;

import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.RatedYield;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * A harvest that somebody weighed, against what the machine's rating allows in the conditions of its cycle.
 *
 * @param at when it was weighed
 * @param by who did; may be empty
 * @param rate absent where no whole cycle ended around then, or the air or the water is not known
 */
public record WeighedHarvest(Instant at, double kilograms, String by, Optional<Rate> rate) {
    /** Less than this share of what is allowed is too little: 5 % that ratings allow, 10 % for the conditions [common practice]. */
    public static final double LEAST_SHARE = 0.85;

    /** Its cycle has ended so long before at most, or so shortly after: clocks of people differ. */
    public static final Duration CYCLE_BEFORE = Duration.ofHours(3);

    public static final Duration CYCLE_AFTER = Duration.ofMinutes(10);

    private static final double DAY_SECONDS = 86_400;

    /**
     * Ice in 24 h of a machine that never rests.
     *
     * @param cycle how long the cycle took
     */
    public record Rate(Duration cycle, double kgPerDay, double allowedKgPerDay) {
        public double share() {
            return kgPerDay / allowedKgPerDay;
        }

        public boolean isEnough() {
            return share() >= LEAST_SHARE;
        }
    }

    /** @param cycle the last whole one that ended around then */
    public static WeighedHarvest of(
            Instant at, double kilograms, String by, double ratedKgPerDay, Optional<Cycle> cycle) {
        return new WeighedHarvest(
                at,
                kilograms,
                by,
                cycle.filter(known -> known.ambientCelsius().isPresent()
                                && known.waterCelsius().isPresent())
                        .map(known -> rate(kilograms, ratedKgPerDay, known)));
    }

    private static Rate rate(double kilograms, double ratedKgPerDay, Cycle cycle) {
        Duration length = Duration.between(cycle.freezeStart(), cycle.end());
        return new Rate(
                length,
                kilograms * DAY_SECONDS / (length.toMillis() / 1000.0),
                RatedYield.kgPerDay(
                        ratedKgPerDay,
                        cycle.ambientCelsius().getAsDouble(),
                        cycle.waterCelsius().getAsDouble()));
    }
}
