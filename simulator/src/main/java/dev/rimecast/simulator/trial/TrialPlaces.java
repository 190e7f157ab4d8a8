package dev.rimecast.simulator.trial;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fleet.FleetPlan.Outage;
import dev.rimecast.simulator.fleet.MachinePlan;
import dev.rimecast.simulator.fleet.SitePlan;
import dev.rimecast.simulator.fleet.SitePlan.HeatWave;
import dev.rimecast.simulator.physics.Noise;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;

/**
 * What happens around machines that is no fault of theirs: heat waves, doors that stand open, gateways that can't reach
 * us for hours or days, with and without a store, cleanings, filters washed, visits that change nothing.
 */
final class TrialPlaces {
    private static final double DAYS_BETWEEN_HEAT_WAVES = 60;
    private static final double DAYS_BETWEEN_OPEN_DOORS = 12;
    private static final double DAYS_BETWEEN_OUTAGES = 50;
    private static final double DAYS_BETWEEN_CLEANINGS = 50;
    private static final double DAYS_BETWEEN_FILTERS = 45;
    private static final double DAYS_BETWEEN_VISITS = 120;

    private final TrialSettings settings;
    private final Instant from;
    private final Instant to;
    private final List<FaultPlan> faults;
    private final List<Happened> events = new ArrayList<>();
    private final List<Outage> outages = new ArrayList<>();

    TrialPlaces(TrialSettings settings, Instant from, Instant to, List<FaultPlan> faults) {
        this.settings = settings;
        this.from = from;
        this.to = to;
        this.faults = faults;
    }

    /** Gives a site its life; returns it with its weather. */
    SitePlan live(SitePlan site) {
        Noise noise = Noise.of(settings.seed(), site.site().id() + "/life");
        List<HeatWave> waves = new ArrayList<>();
        for (Instant at : times(noise, DAYS_BETWEEN_HEAT_WAVES)) {
            waves.add(new HeatWave(at, at.plus(hours(noise.uniform(3 * 24, 9 * 24))), noise.uniform(4, 9)));
        }
        for (Instant at : times(noise, DAYS_BETWEEN_OPEN_DOORS)) {
            double kelvin = noise.uniform(3, 7) * (noise.uniform() < 0.5 ? -1 : 1);
            waves.add(new HeatWave(at, at.plus(hours(noise.uniform(1, 4))), kelvin));
        }
        gateways(site, noise);
        for (MachinePlan machine : site.machines()) {
            work(machine, Noise.of(settings.seed(), machine.id() + "/life"));
        }
        return new SitePlan(site.site(), site.kind(), site.climate(), site.machines(), waves);
    }

    private void gateways(SitePlan site, Noise noise) {
        String gateway = site.machines().get(0).machine().gateway();
        for (Instant at : times(noise, DAYS_BETWEEN_OUTAGES)) {
            Instant end = at.plus(hours(2 * StrictMath.exp(noise.uniform() * StrictMath.log(24))));
            boolean loses = noise.uniform() < 0.5;
            boolean hides = site.machines().stream().anyMatch(m -> hidesAStep(m.id(), at, end));
            if (!hides) {
                outages.add(new Outage(gateway, at, end, loses));
            }
        }
    }

    /** A step that nobody could have seen says nothing of a detector. */
    private boolean hidesAStep(String machine, Instant start, Instant end) {
        return faults.stream()
                .filter(f -> f.machine().equals(machine) && f.grows().isZero())
                .anyMatch(f -> start.isBefore(f.onset().plus(hours(30)))
                        && end.isAfter(f.onset().minus(hours(6))));
    }

    private void work(MachinePlan machine, Noise noise) {
        for (Instant at : times(noise, DAYS_BETWEEN_CLEANINGS)) {
            add(machine, byDay(noise, at), EventKind.CLEANED, "", "staff", Cause.SCALE);
        }
        for (Instant at : times(noise, DAYS_BETWEEN_FILTERS)) {
            add(machine, byDay(noise, at), EventKind.AIR_FILTER_WASHED, "", "staff", Cause.AIRFLOW_RESTRICTED);
        }
        for (Instant at : times(noise, DAYS_BETWEEN_VISITS)) {
            add(machine, byDay(noise, at), EventKind.VISIT, "planned-care", "engineer", Cause.CONTROLLER_FAILED);
        }
    }

    /** Work that would mend a fault does not happen while the fault lasts. */
    private void add(MachinePlan machine, Instant at, EventKind kind, String detail, String by, Cause mends) {
        boolean wouldMend = faults.stream()
                .anyMatch(f -> f.machine().equals(machine.id())
                        && f.cause() == mends
                        && at.isAfter(f.onset())
                        && f.mended().map(at::isBefore).orElse(true));
        if (!wouldMend) {
            events.add(new Happened(at, Optional.of(machine.id()), kind, detail, by, ""));
        }
    }

    /** Times at random, so far apart on average, days. */
    private List<Instant> times(Noise noise, double daysBetween) {
        List<Instant> times = new ArrayList<>();
        double days = Duration.between(from, to).toHours() / 24.0;
        double at = 0;
        while (true) {
            at -= daysBetween * StrictMath.log(1 - noise.uniform());
            if (at >= days - 1) {
                return times;
            }
            times.add(from.plus(hours(at * 24)));
        }
    }

    private static Instant byDay(Noise noise, Instant at) {
        return at.truncatedTo(ChronoUnit.DAYS).plus(hours(noise.uniform(9, 16)));
    }

    private static Duration hours(double hours) {
        return Duration.ofMinutes(StrictMath.round(hours * 60));
    }

    List<Happened> events() {
        return Collections.unmodifiableList(events);
    }

    List<Outage> outages() {
        return Collections.unmodifiableList(outages);
    }
}
