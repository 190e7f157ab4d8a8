package dev.rimecast.simulator.fleet;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fault.Truth;
import dev.rimecast.simulator.physics.Noise;
import dev.rimecast.simulator.place.Room;
import dev.rimecast.simulator.place.Weather;
import dev.rimecast.telemetry.finding.Cause.Origin;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;

/**
 * One site of a simulated fleet, from its beginning on: the machines of one room with the people who use them. Sites
 * know nothing of each other, so they can run on as many threads as there are; one site is not safe for threads.
 */
public final class SimulatedSite {
    private static final long MINUTE_MILLIS = 60_000;

    private final SitePlan plan;
    private final Room room;
    private final List<SimulatedMachine> machines = new ArrayList<>();
    private final List<Happened> toCome;
    private final People people;
    private long now;

    SimulatedSite(FleetPlan fleet, SitePlan plan, Weather weather) {
        this.plan = plan;
        now = fleet.from().toEpochMilli();
        room = new Room(weather, plan.kind(), plan.climate(), plan.site().timeZone(), fleet.from());
        room.step(now, 60, 0);
        for (MachinePlan machine : plan.machines()) {
            machines.add(new SimulatedMachine(fleet, machine, room.celsius(), room.waterCelsius(now)));
        }
        toCome = planned(fleet, plan);
        people = new People(Noise.of(fleet.seed(), plan.site().id() + "/people"), plan, machines);
    }

    private static List<Happened> planned(FleetPlan fleet, SitePlan plan) {
        List<Happened> all = new ArrayList<>();
        for (Happened event : fleet.events()) {
            if (event.machine().isPresent()
                    && plan.machines().stream()
                            .anyMatch(m -> event.machine().get().equals(m.id()))) {
                all.add(event);
            }
        }
        for (MachinePlan machine : plan.machines()) {
            for (FaultPlan fault : fleet.faultsOf(machine.id())) {
                all.addAll(Mending.events(fault));
            }
        }
        all.sort(Comparator.comparing(Happened::at));
        return all;
    }

    public Site site() {
        return plan.site();
    }

    /** Up to where it has been simulated. */
    public Instant now() {
        return Instant.ofEpochMilli(now);
    }

    /**
     * Simulates up to the last whole minute at or before {@code until}; nothing if that has passed.
     *
     * @return what came in between
     */
    public SiteBatch advanceTo(Instant until) {
        long to = Math.floorDiv(until.toEpochMilli(), MINUTE_MILLIS) * MINUTE_MILLIS;
        long from = now;
        List<Reading> readings = new ArrayList<>();
        List<Happened> events = new ArrayList<>();
        while (now < to) {
            minute(readings, events);
        }
        return new SiteBatch(plan.site().id(), Instant.ofEpochMilli(from), Instant.ofEpochMilli(now), readings, events);
    }

    private void minute(List<Reading> readings, List<Happened> events) {
        long end = now + MINUTE_MILLIS;
        happen(end, events);
        double added = plan.heatWaveKelvin(now);
        for (SimulatedMachine machine : machines) {
            added += machine.roomKelvin(now);
        }
        room.step(now, 60, added);
        double water = room.waterCelsius(now);
        List<Reading> ofMinute = new ArrayList<>();
        for (SimulatedMachine machine : machines) {
            machine.openLid(plan.isLidOpen(machine.id(), now));
            machine.run(now, end, room.celsius(), water, room.minuteOfDay(now));
            ofMinute.addAll(machine.takeReadings());
        }
        people.minute(now, room, events);
        ofMinute.sort(Comparator.comparingLong(Reading::timeMillis));
        readings.addAll(ofMinute);
        now = end;
    }

    private void happen(long end, List<Happened> events) {
        while (!toCome.isEmpty() && toCome.get(0).at().toEpochMilli() < end) {
            Happened event = toCome.remove(0);
            if (event.at().toEpochMilli() < now) {
                continue;
            }
            events.add(event);
            Optional<SimulatedMachine> machine = machines.stream()
                    .filter(m ->
                            event.machine().isPresent() && event.machine().get().equals(m.id()))
                    .findFirst();
            if (event.kind() == EventKind.CLEANED) {
                machine.ifPresent(m -> m.startCleaning(now));
            }
        }
    }

    /**
     * An engineer looks at a machine: what is wrong with it then is put right and written down, or that nothing was found.
     * What is wrong with the whole room or its link is put right for all machines. What the plan has for later of the
     * same faults falls away.
     *
     * @param at not before {@link #now}, and not before an earlier visit of the same machine
     * @return whether something was wrong
     */
    public boolean visit(String machine, Instant at) {
        boolean found = putRight(machine, at, fault -> true);
        if (!found) {
            toCome(new Happened(at, Optional.of(machine), EventKind.VISIT, "nothing-found", "engineer", ""));
        }
        return found;
    }

    /**
     * The people of the site look at a machine: as {@link #visit}, but only what needs no engineer is put right, and of a
     * look that changes nothing nothing is written down.
     */
    public boolean siteLooks(String machine, Instant at) {
        return putRight(machine, at, fault -> fault.cause().origin() == Origin.SITE);
    }

    private boolean putRight(String machine, Instant at, Predicate<FaultPlan> able) {
        if (at.toEpochMilli() < now) {
            throw new IllegalArgumentException("look at " + machine + " at " + at + " is before " + now());
        }
        SimulatedMachine visited = machines.stream()
                .filter(m -> m.id().equals(machine))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException(
                        machine + " is not at " + plan.site().id()));
        List<FaultPlan> wrong = visited.wrongAt(at).stream().filter(able).toList();
        for (FaultPlan fault : wrong) {
            for (SimulatedMachine each : machines) {
                for (FaultPlan same : each.wrongAt(at)) {
                    if (same.equals(fault) || fault.isSharedWith(same)) {
                        put(each, same, at);
                    }
                }
            }
        }
        return !wrong.isEmpty();
    }

    private void put(SimulatedMachine machine, FaultPlan fault, Instant at) {
        List<Happened> asPlanned = Mending.events(fault);
        toCome.removeIf(asPlanned::contains);
        machine.mend(fault, at);
        Mending.events(fault.mendedAt(at)).forEach(this::toCome);
    }

    private void toCome(Happened event) {
        toCome.add(event);
        toCome.sort(Comparator.comparing(Happened::at));
    }

    /** What is true by now of this site's machines. */
    public List<Truth> truth() {
        return machines.stream().flatMap(machine -> machine.truth().stream()).toList();
    }
}
