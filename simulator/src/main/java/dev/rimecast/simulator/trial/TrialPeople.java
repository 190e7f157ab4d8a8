package dev.rimecast.simulator.trial;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fleet.MachinePlan;
import dev.rimecast.simulator.fleet.SitePlan;
import dev.rimecast.simulator.fleet.SitePlan.OpenLid;
import dev.rimecast.simulator.fleet.SitePlan.Rush;
import dev.rimecast.simulator.physics.Noise;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What people do around machines that is no fault: cleanings, filters washed, visits that change nothing, feasts, weeks
 * in which the place is closed, bins left open.
 */
final class TrialPeople {
    private static final double DAYS_BETWEEN_CLEANINGS = 50;
    private static final double DAYS_BETWEEN_FILTERS = 45;
    private static final double DAYS_BETWEEN_VISITS = 120;
    private static final double DAYS_BETWEEN_FEASTS = 15;
    private static final double DAYS_BETWEEN_CLOSED_WEEKS = 200;
    private static final double DAYS_BETWEEN_OPEN_LIDS = 25;

    private final Times times;
    private final List<FaultPlan> faults;
    private final Steps steps;

    TrialPeople(Instant from, Instant to, List<FaultPlan> faults) {
        times = new Times(from, to);
        this.faults = faults;
        steps = new Steps(faults);
    }

    List<Rush> feasts(Noise noise) {
        List<Rush> rushes = new ArrayList<>();
        for (Instant at : times.every(noise, DAYS_BETWEEN_FEASTS)) {
            rushes.add(new Rush(at, at.plus(Times.hours(noise.uniform(2, 5))), noise.uniform(2, 4)));
        }
        return rushes;
    }

    /** Nobody takes ice; machines fill their bins and rest. */
    List<Rush> closedWeeks(SitePlan site, Noise noise) {
        List<Rush> closed = new ArrayList<>();
        Instant open = Instant.MIN;
        for (Instant at : times.every(noise, DAYS_BETWEEN_CLOSED_WEEKS)) {
            Instant end = at.plus(Times.hours(noise.uniform(4 * 24, 12 * 24)));
            if (at.isAfter(open) && !steps.areHidden(site, at, end)) {
                closed.add(new Rush(at, end, 0));
                open = end;
            }
        }
        return closed;
    }

    List<OpenLid> lids(MachinePlan machine, Noise noise) {
        List<OpenLid> lids = new ArrayList<>();
        for (Instant at : times.every(noise, DAYS_BETWEEN_OPEN_LIDS)) {
            lids.add(new OpenLid(machine.id(), at, at.plus(Times.hours(noise.uniform(1, 10)))));
        }
        return lids;
    }

    List<Happened> events(SitePlan site, List<Rush> closed, Noise noise) {
        List<Happened> events = new ArrayList<>();
        for (MachinePlan machine : site.machines()) {
            for (Instant at : times.every(noise, DAYS_BETWEEN_CLEANINGS)) {
                Instant time = Times.byDay(noise, at);
                if (!wouldMend(Cause.SCALE, machine, time)) {
                    events.add(event(machine, time, EventKind.CLEANED, "", "staff"));
                }
            }
            for (Instant at : times.every(noise, DAYS_BETWEEN_FILTERS)) {
                Instant time = Times.byDay(noise, at);
                if (!wouldMend(Cause.AIRFLOW_RESTRICTED, machine, time)) {
                    events.add(event(machine, time, EventKind.AIR_FILTER_WASHED, "", "staff"));
                }
            }
            for (Instant at : times.every(noise, DAYS_BETWEEN_VISITS)) {
                events.add(event(machine, Times.byDay(noise, at), EventKind.VISIT, "planned-care", "engineer"));
            }
            for (Rush week : closed) {
                events.add(event(machine, week.from(), EventKind.CLOSED_FROM, "", "site"));
                events.add(event(machine, week.to(), EventKind.CLOSED_TO, "", "site"));
            }
        }
        return events;
    }

    /** Work that would mend a fault does not happen while the fault lasts. */
    private boolean wouldMend(Cause cause, MachinePlan machine, Instant at) {
        return faults.stream()
                .filter(f -> f.machine().equals(machine.id()) && f.cause() == cause)
                .anyMatch(f ->
                        at.isAfter(f.onset()) && f.mended().map(at::isBefore).orElse(true));
    }

    private static Happened event(MachinePlan machine, Instant at, EventKind kind, String detail, String by) {
        return new Happened(at, Optional.of(machine.id()), kind, detail, by, "");
    }
}
