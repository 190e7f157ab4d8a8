package dev.rimecast.simulator.trial;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fleet.MachinePlan;
import dev.rimecast.simulator.fleet.SitePlan;
import dev.rimecast.simulator.physics.Noise;
import dev.rimecast.simulator.place.Room;
import dev.rimecast.simulator.place.SiteKind;
import dev.rimecast.simulator.place.Weather;
import dev.rimecast.simulator.trial.TrialFault.Course;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import java.time.DayOfWeek;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Optional;

/** Draws one fault: how bad, how fast, when, and whether somebody mends it. */
final class OneFault {
    private static final double SHORTEST_DAYS = 7;
    private static final double LONGEST_DAYS = 200;
    /** A fault's deadline is when this much has developed; it lies inside the run. */
    private static final double DEVELOPED = 0.8;

    private static final double LEFT_AT_THE_END_DAYS = 2;
    private static final double MOVED_AT_MOST_DAYS = 4;
    private static final double MENDED = 0.5;
    private static final double RIGHT_AFTER_WORK = 0.7;
    /** A timed fill takes more than it needs: the tap must be nearly shut before the sump stays empty. */
    private static final double MILD_FOR_TIMED_FILL = 0.8;

    private final Noise noise;
    private final Weather weather = Weather.recorded();
    private final Instant from;
    private final Instant to;

    OneFault(Noise noise, Instant from, Instant to) {
        this.noise = noise;
        this.from = from;
        this.to = to;
    }

    FaultPlan of(TrialFault fault, SitePlan site, MachinePlan machine) {
        boolean grows = fault.course() == Course.GROWS || (fault.course() == Course.EITHER && noise.uniform() < 0.5);
        double days = Duration.between(from, to).toHours() / 24.0;
        double room = days - TrialSettings.QUIET_DAYS - LEFT_AT_THE_END_DAYS - MOVED_AT_MOST_DAYS;
        double growsDays = 0;
        if (grows) {
            double longest = Math.min(LONGEST_DAYS, room / DEVELOPED);
            double ratio = longest / SHORTEST_DAYS;
            growsDays = SHORTEST_DAYS * StrictMath.exp(noise.uniform() * StrictMath.log(ratio));
        }
        double afterwards = grows ? DEVELOPED * growsDays : 1;
        double begins =
                TrialSettings.QUIET_DAYS + MOVED_AT_MOST_DAYS + noise.uniform() * Math.max(0, room - afterwards);
        Instant onset = from.plus(minutes(begins * 1440));
        if (fault.afterWork() || fault.cause() == Cause.POWER_OFF) {
            onset = byDay(onset);
        }
        if (!grows) {
            onset = whileInUse(site, onset);
        }
        double severity = severity(fault, site, machine, onset);
        FaultPlan plan = new FaultPlan(
                machine.id(), fault.cause(), onset, minutes(growsDays * 1440), severity, Optional.empty());
        Instant mended = byDay(onset.plus(minutes((afterwards + noise.uniform(1, 10)) * 1440)));
        return noise.uniform() < MENDED && mended.isBefore(to) ? plan.mendedAt(mended) : plan;
    }

    /** What people did before that went wrong; it is written down whether or not the machine suffers. */
    Optional<Happened> workBefore(TrialFault fault, FaultPlan plan) {
        if (!fault.afterWork() || noise.uniform() >= RIGHT_AFTER_WORK) {
            return Optional.empty();
        }
        boolean byEngineer = fault.cause() == Cause.PROBES_SWAPPED || fault.cause() == Cause.EVAPORATOR_SENSOR_LOOSE;
        // A cleaning takes 45 minutes; who forgets to end it has begun it.
        double before = fault.cause() == Cause.LEFT_IN_CLEANING ? 5 : noise.uniform(50, 150);
        return Optional.of(new Happened(
                plan.onset().minus(minutes(before)),
                Optional.of(plan.machine()),
                byEngineer ? EventKind.VISIT : EventKind.CLEANED,
                byEngineer ? "planned-care" : "",
                byEngineer ? "engineer" : "staff",
                ""));
    }

    private double severity(TrialFault fault, SitePlan site, MachinePlan machine, Instant onset) {
        double share = noise.uniform();
        double mild = fault.mild();
        if (fault.cause() == Cause.WATER_SUPPLY_LOW
                && machine.machine().fillEndsBy().orElse(EndsBy.TIME) == EndsBy.TIME) {
            mild = MILD_FOR_TIMED_FILL;
        }
        double drawn = mild + (fault.severe() - mild) * share;
        if (fault.cause() == Cause.ROOM_TOO_HOT) {
            return Math.max(5, drawn - noonCelsius(site, onset));
        }
        if (fault.cause() == Cause.ROOM_TOO_COLD) {
            return Math.max(5, noonCelsius(site, onset) - drawn);
        }
        boolean either = fault.cause() == Cause.BIN_SENSOR_FAILED || fault.cause() == Cause.CONDENSER_SENSOR_FAILED;
        return either && noise.uniform() < 0.5 ? -drawn : drawn;
    }

    private double noonCelsius(SitePlan site, Instant onset) {
        Instant noon = onset.truncatedTo(ChronoUnit.DAYS).plus(Duration.ofHours(12));
        Room room = new Room(weather, site.kind(), site.climate(), site.site().timeZone(), noon);
        room.step(noon.toEpochMilli(), 60, 0);
        return room.celsius();
    }

    /** A canteen's machines rest at weekends: a step then shows on Monday, and nobody could know it before. */
    private static Instant whileInUse(SitePlan site, Instant onset) {
        int day = onset.atZone(site.site().timeZone()).getDayOfWeek().getValue();
        boolean restsSoon = site.kind() == SiteKind.CANTEEN && day >= DayOfWeek.FRIDAY.getValue();
        return restsSoon ? onset.minus(Duration.ofDays(day - DayOfWeek.THURSDAY.getValue())) : onset;
    }

    private Instant byDay(Instant at) {
        return at.truncatedTo(ChronoUnit.DAYS).plus(minutes(noise.uniform(10, 16) * 60));
    }

    private static Duration minutes(double minutes) {
        return Duration.ofMinutes(StrictMath.round(minutes));
    }
}
