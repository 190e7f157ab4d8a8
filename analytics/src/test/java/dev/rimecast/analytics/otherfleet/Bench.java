package dev.rimecast.analytics.otherfleet;

import dev.rimecast.telemetry.machine.Channel;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;

/** A machine on a test bench: constant room and water, ice taken as it falls, means over settled cycles. */
final class Bench implements Happenings {
    /** Means over the cycles after the first four. Times in s, power in W. */
    record Result(
            double pullDown,
            double freeze,
            double harvest,
            double condensingEnd,
            double split,
            double evaporatorEnd,
            double evaporatorLowest,
            double batchKg,
            double kgPerDay,
            double kwhPerKg,
            double fill,
            double waterPerCycleKg,
            double cycles,
            double firstStop) {}

    private static final int SETTLING_CYCLES = 4;

    private final Surroundings around = new Surroundings();
    private final Wear wear = new Wear();
    private final IceMachine machine;
    private final List<Double> pullDowns = new ArrayList<>();
    private final List<Double> freezes = new ArrayList<>();
    private final List<Double> harvests = new ArrayList<>();
    private final List<Double> fills = new ArrayList<>();
    private final List<Double> condensing = new ArrayList<>();
    private final List<Double> ends = new ArrayList<>();
    private final List<Double> lowest = new ArrayList<>();
    private double lowestOfCycle = 99;

    Bench(Design design, double roomCelsius, double mainsCelsius, long seed) {
        around.roomCelsius = roomCelsius;
        around.mainsCelsius = mainsCelsius;
        Settings settings = Commissioning.of(design, Sensors.Quality.GOOD);
        machine = new IceMachine(
                design, wear, Sensors.Quality.GOOD, settings, 1e6, around, new SplittableRandom(seed), this);
    }

    static Bench of(Model model, double roomCelsius, double mainsCelsius) {
        return new Bench(Design.of(model, 1, Design.Tolerance.NONE), roomCelsius, mainsCelsius, 1);
    }

    Wear wear() {
        return wear;
    }

    IceMachine machine() {
        return machine;
    }

    /** Runs for so many hours and gives the means. */
    Result run(double hours) {
        double now = 0;
        double from = 0;
        double kgFrom = 0;
        double jouleFrom = 0;
        double waterFrom = 0;
        int cyclesFrom = 0;
        boolean settled = false;
        double nextMinute = 0;
        while (now < hours * 3600) {
            if (now >= nextMinute) {
                machine.minute(now, around, 1);
                nextMinute += 60;
            }
            double step = machine.stepSeconds();
            now += step;
            machine.step(now, step, around);
            machine.bin.kg = 0;
            lowestOfCycle = Math.min(lowestOfCycle, machine.sensors.evaporatorShown());
            if (!settled && machine.controller.cycles >= SETTLING_CYCLES && harvests.size() >= SETTLING_CYCLES) {
                settled = true;
                from = now;
                kgFrom = machine.madeKg;
                jouleFrom = machine.plant.energyJoule;
                waterFrom = machine.plant.sump.takenKg;
                cyclesFrom = harvests.size();
            }
        }
        double kg = machine.madeKg - kgFrom;
        double cycles = harvests.size() - cyclesFrom;
        return new Result(
                mean(pullDowns),
                mean(freezes),
                mean(harvests),
                mean(condensing),
                mean(condensing) - around.roomCelsius,
                mean(ends),
                mean(lowest),
                cycles == 0 ? 0 : kg / cycles,
                kg * 86400 / (now - from),
                kg == 0 ? Double.POSITIVE_INFINITY : (machine.plant.energyJoule - jouleFrom) / 3.6e6 / kg,
                mean(fills),
                cycles == 0 ? 0 : (machine.plant.sump.takenKg - waterFrom) / cycles,
                cycles,
                machine.controller.protection().firstStop());
    }

    private static double mean(List<Double> values) {
        return values.stream()
                .skip(SETTLING_CYCLES)
                .mapToDouble(v -> v)
                .average()
                .orElse(0);
    }

    @Override
    public void number(Channel channel, double atSeconds, double value) {
        if (channel == Channel.PULL_DOWN_TIME) {
            pullDowns.add(value);
        } else if (channel == Channel.FREEZE_TIME) {
            freezes.add(value);
            condensing.add(machine.plant.condenser.condensingCelsius);
            ends.add(machine.sensors.evaporatorShown());
            lowest.add(lowestOfCycle);
            lowestOfCycle = 99;
        } else if (channel == Channel.HARVEST_TIME) {
            harvests.add(value);
        } else if (channel == Channel.FILL_TIME) {
            fills.add(value);
        }
    }

    @Override
    public void flag(Channel channel, double atSeconds, boolean value) {}
}
