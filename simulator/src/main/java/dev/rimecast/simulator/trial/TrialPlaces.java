package dev.rimecast.simulator.trial;

import dev.rimecast.simulator.fleet.FleetPlan.Outage;
import dev.rimecast.simulator.fleet.SitePlan;
import dev.rimecast.simulator.fleet.SitePlan.HeatWave;
import dev.rimecast.simulator.physics.Noise;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/**
 * What a place does to machines that is no fault: heat waves, doors that stand open, gateways that can't reach us for
 * hours or days, with and without a store. No room leaves what a sound machine stands.
 */
final class TrialPlaces {
    private static final double DAYS_BETWEEN_HEAT_WAVES = 60;
    private static final double DAYS_BETWEEN_OPEN_DOORS = 12;
    private static final double DAYS_BETWEEN_OUTAGES = 50;
    private static final double LEAST_KELVIN = 2;
    private static final Duration BETWEEN_WAVES = Duration.ofHours(30);

    private final Instant from;
    private final Instant to;
    private final Times times;
    private final Steps steps;

    TrialPlaces(Instant from, Instant to, Steps steps) {
        this.from = from;
        this.to = to;
        this.steps = steps;
        times = new Times(from, to);
    }

    List<HeatWave> weather(SitePlan site, Noise noise) {
        RoomCourse room =
                new RoomCourse(site.kind(), site.climate(), site.site().timeZone(), from, to);
        List<HeatWave> waves = new ArrayList<>();
        for (Instant at : times.every(noise, DAYS_BETWEEN_HEAT_WAVES)) {
            Instant end = at.plus(Times.hours(noise.uniform(3 * 24, 9 * 24)));
            add(waves, new HeatWave(at, end, noise.uniform(4, 9)), room);
        }
        for (Instant at : times.every(noise, DAYS_BETWEEN_OPEN_DOORS)) {
            Instant end = at.plus(Times.hours(noise.uniform(1, 4)));
            add(waves, new HeatWave(at, end, noise.uniform(3, 7) * (noise.uniform() < 0.5 ? -1 : 1)), room);
        }
        return waves;
    }

    /** Waves do not overlap: together they could leave what a sound machine stands. */
    private static void add(List<HeatWave> waves, HeatWave wave, RoomCourse room) {
        double most = RoomCourse.HOTTEST_CELSIUS - room.hottest(wave.from(), wave.to());
        double least = RoomCourse.COLDEST_CELSIUS - room.coldest(wave.from(), wave.to());
        double kelvin = Math.max(least, Math.min(most, wave.kelvin()));
        boolean overlaps = waves.stream()
                .anyMatch(w -> w.from().isBefore(wave.to().plus(BETWEEN_WAVES))
                        && wave.from().isBefore(w.to().plus(BETWEEN_WAVES)));
        if (!overlaps && Math.abs(kelvin) >= LEAST_KELVIN) {
            waves.add(new HeatWave(wave.from(), wave.to(), kelvin));
        }
    }

    List<Outage> outages(SitePlan site, Noise noise) {
        String gateway = site.machines().get(0).machine().gateway();
        List<Outage> outages = new ArrayList<>();
        for (Instant at : times.every(noise, DAYS_BETWEEN_OUTAGES)) {
            // Two hours to two days, short ones more often.
            Instant end = at.plus(Times.hours(2 * StrictMath.exp(noise.uniform() * StrictMath.log(24))));
            boolean loses = noise.uniform() < 0.5;
            if (!steps.areHidden(site, at, end)) {
                outages.add(new Outage(gateway, at, end, loses));
            }
        }
        return outages;
    }
}
