package dev.rimecast.analytics.twelfthfleet;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.EventKind;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.jspecify.annotations.Nullable;

/** Planned care of one machine and the slow soiling between: filters washed, cleanings, visits that change nothing. */
final class Upkeep {
    private static final double DAY = 86_400;

    /** Something done; not all of it is written down. */
    record Done(double at, EventKind kind, String detail, boolean written) {}

    private final List<Done> done = new ArrayList<>();
    private final double dustPerDay;
    private final double scalePerDay;
    private final double crateEvery;
    private final List<Double> crates = new ArrayList<>();
    private final double crateSeconds;

    Upkeep(Random random, Place place, int days, @Nullable Fault fault) {
        dustPerDay = 0.0002 + 0.0012 * random.nextDouble();
        scalePerDay = 0.0002 + 0.0006 * random.nextDouble();
        crateEvery = 45 + 60 * random.nextDouble();
        crateSeconds = 300 + 1200 * random.nextDouble();
        double washEvery = 25 + 25 * random.nextDouble();
        double cleanEvery = 50 + 60 * random.nextDouble();
        boolean tidy = random.nextDouble() < 0.7;
        plan(random, place, days, washEvery, EventKind.AIR_FILTER_WASHED, tidy);
        plan(random, place, days, cleanEvery, EventKind.CLEANED, tidy);
        plan(random, place, days, 200, EventKind.VISIT, true);
        if (fault != null && keepsAway(fault.cause())) {
            done.removeIf(d -> d.at() > fault.onset() && d.kind() != EventKind.VISIT);
        }
        if (fault != null && fault.growth() == 0 && afterVisit(fault.cause())) {
            done.add(new Done(fault.onset() - 1200, EventKind.VISIT, "", random.nextDouble() < 0.8));
        }
        if (fault != null && fault.cause() == Cause.LEFT_IN_CLEANING) {
            done.add(new Done(fault.onset(), EventKind.CLEANED, "", random.nextDouble() < 0.5));
        }
        for (double day = Place.exponential(random, crateEvery);
                day < days;
                day += Place.exponential(random, crateEvery)) {
            crates.add(day * DAY);
        }
    }

    private void plan(Random random, Place place, int days, double every, EventKind kind, boolean tidy) {
        for (double day = every * random.nextDouble(); day < days; day += every * (0.7 + 0.6 * random.nextDouble())) {
            double at = Math.floor(day) * DAY + (place.open + 0.5 + 3 * random.nextDouble()) * 3600;
            int step = (int) at / Place.STEP;
            if (place.isOpen(step) && place.powered[step]) {
                done.add(new Done(at, kind, "", random.nextDouble() < (tidy ? 0.9 : 0.4)));
            }
        }
    }

    private static boolean keepsAway(Cause cause) {
        return cause == Cause.AIRFLOW_RESTRICTED
                || cause == Cause.SCALE
                || cause == Cause.SPRAY_JETS_BLOCKED
                || cause == Cause.LEVEL_PROBES_FOULED
                || cause == Cause.LEFT_IN_CLEANING;
    }

    private static boolean afterVisit(Cause cause) {
        return cause == Cause.PROBES_SWAPPED || cause == Cause.AIR_IN_CIRCUIT_OR_OVERCHARGED;
    }

    List<Done> done() {
        return done;
    }

    /** Sets the dust, the thin scale, a cleaning that runs and a crate that stands before the grille for some minutes. */
    void apply(Ills ills, double t) {
        double washed = -20 * DAY;
        double cleaned = -40 * DAY;
        for (Done d : done) {
            if (d.at() <= t) {
                washed = d.kind() == EventKind.AIR_FILTER_WASHED ? Math.max(washed, d.at()) : washed;
                cleaned = d.kind() == EventKind.CLEANED ? Math.max(cleaned, d.at()) : cleaned;
            }
        }
        ills.air *= Math.max(0.9, 1 - dustPerDay * (t - washed) / DAY);
        ills.scale += Math.min(0.08, scalePerDay * (t - cleaned) / DAY);
        ills.cleaning = t - cleaned < 2700;
        for (double crate : crates) {
            if (t >= crate && t < crate + crateSeconds) {
                ills.air *= 0.6;
            }
        }
    }
}
