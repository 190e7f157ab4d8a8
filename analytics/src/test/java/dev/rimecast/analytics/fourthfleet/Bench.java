package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** A machine with its group's own constants on a test bench: constant room and water, ice taken as it falls. */
final class Bench implements Told {
    private static final int SETTLING_CYCLES = 3;

    /** Means over settled cycles. Times in s. */
    record Result(
            double pullDown,
            double freeze,
            double harvest,
            double fill,
            double drainLevel,
            double condensing,
            double split,
            double evaporatorLowest,
            double batchKg,
            double kgPerDay,
            double waterPerKg,
            double amperes,
            boolean stopped) {}

    /** The end of a harvest. */
    private record Mark(long at, double madeKg, double takenKg) {}

    private final FleetMachine machine;
    private final Surroundings around = new Surroundings();
    private final Map<Channel, List<Double>> told = new EnumMap<>(Channel.class);
    private final List<Double> condensing = new ArrayList<>();
    private final List<Double> amperes = new ArrayList<>();
    private final List<Double> lowest = new ArrayList<>();
    private double lowestOfCycle = 99;
    private long now;
    private Mark from = new Mark(0, 0, 0);
    private Mark to = from;

    Bench(MachineGroup group, double roomCelsius, double mainsCelsius, Fault fault) {
        around.roomCelsius = roomCelsius;
        around.mainsCelsius = mainsCelsius;
        Opening opening = new Opening(8, 20, Optional.<DayOfWeek>empty(), 0);
        SiteDraft site = new SiteDraft("bench", Climate.INLAND, opening, false, false, List.of(), List.of(), List.of());
        MachineDraft draft = new MachineDraft(
                "m1",
                site,
                0,
                0,
                new Traits(group, Scatter.NONE),
                new MachineDraft.Care(false, 1e6, Long.MAX_VALUE, 0, 0, 0, 0),
                new MachineDraft.Use(1e6, 0, 0),
                new MachineDraft.Papers("", LocalDate.EPOCH),
                Set.of(),
                List.of(),
                false,
                0);
        draft.fault = fault;
        machine = new FleetMachine(draft, around, 0, new Chance(1), this);
    }

    static Result sound(MachineGroup group, double roomCelsius, double mainsCelsius) {
        return new Bench(group, roomCelsius, mainsCelsius, Fault.NONE).run(10);
    }

    /** With a fault there from the start. */
    static Result with(MachineGroup group, FaultKind kind, double size) {
        return new Bench(group, 25, 15, Fault.step(kind, size, 0, 0)).run(10);
    }

    Result run(int hours) {
        while (now < hours * 3600L) {
            machine.second(now);
            machine.plant.bin.kg = 0;
            if (machine.phase() == Phase.FREEZE) {
                lowestOfCycle = Math.min(lowestOfCycle, machine.probes.evaporator.celsius);
            }
            now++;
        }
        double made = to.madeKg() - from.madeKg();
        int cycles = told.getOrDefault(Channel.HARVEST_TIME, List.of()).size() - SETTLING_CYCLES;
        double split = mean(condensing) - around.roomCelsius;
        return new Result(
                mean(Channel.PULL_DOWN_TIME),
                mean(Channel.FREEZE_TIME),
                mean(Channel.HARVEST_TIME),
                mean(Channel.FILL_TIME),
                mean(Channel.DRAIN_LEVEL_TIME),
                mean(condensing),
                split,
                mean(lowest),
                cycles > 0 ? made / cycles : 0,
                to.at() > from.at() ? made * 86_400 / (to.at() - from.at()) : 0,
                made > 0 ? (to.takenKg() - from.takenKg()) / made : 0,
                mean(amperes),
                machine.ailment.stopped().isPresent());
    }

    private double mean(Channel channel) {
        return mean(told.getOrDefault(channel, List.of()));
    }

    private static double mean(List<Double> values) {
        return values.stream()
                .skip(SETTLING_CYCLES)
                .mapToDouble(value -> value)
                .average()
                .orElse(0);
    }

    @Override
    public void number(Channel channel, long millis, double value) {
        List<Double> values = told.computeIfAbsent(channel, c -> new ArrayList<>());
        values.add(value);
        if (channel == Channel.FREEZE_TIME) {
            condensing.add(machine.plant.condenser.celsius);
            amperes.add(machine.plant.amperes(now));
            lowest.add(lowestOfCycle);
            lowestOfCycle = 99;
        } else if (channel == Channel.HARVEST_TIME) {
            // told before its ice is counted
            double fallen = machine.plant.evaporator.isReleased() ? machine.plant.evaporator.iceKg : 0;
            to = new Mark(now, machine.controls.madeKg + fallen, machine.plant.water.takenKg);
            from = values.size() == SETTLING_CYCLES ? to : from;
        }
    }

    @Override
    public void flag(Channel channel, long millis, boolean value) {}
}
