package dev.rimecast.analytics.otherfleet;

import dev.rimecast.telemetry.machine.Machine.DrainKind;
import java.util.SplittableRandom;

/** Plant, control, bin, drain and probes of one machine, moved on together. */
final class IceMachine {
    static final double DRAIN_LIMIT_SECONDS = 6;
    static final double DRAIN_RUN_ON_SECONDS = 1.5;
    private static final double WORKING_STEP_SECONDS = 2;
    private static final double RESTING_STEP_SECONDS = 10;

    final Plant plant;
    final Sensors sensors;
    final Bin bin;
    final Controller controller;
    final DrainTank drain;
    private final Happenings told;
    private final boolean pumped;
    double madeKg;

    IceMachine(
            Design design,
            Wear wear,
            Sensors.Quality quality,
            Settings settings,
            double binKg,
            Surroundings around,
            SplittableRandom random,
            Happenings told) {
        this.told = told;
        plant = new Plant(design, wear, around);
        sensors = new Sensors(quality, design.model().probeAt(), around.roomCelsius);
        bin = new Bin(binKg, wear, 0.5 * binKg);
        controller = new Controller(plant, sensors, bin, settings, random.split(), told);
        pumped = design.model().drainKind() == DrainKind.PUMP;
        drain = new DrainTank(wear, design.size(), DRAIN_RUN_ON_SECONDS, DRAIN_LIMIT_SECONDS, random.split());
    }

    /** How long the next step should be, s: 2 while anything moves, 10 at rest. */
    double stepSeconds() {
        return switch (controller.phase()) {
            case FILL, FREEZE, HARVEST, REDUCED -> WORKING_STEP_SECONDS;
            case WAIT, IDLE, CLEAN, STOPPED, OFF -> RESTING_STEP_SECONDS;
        };
    }

    /** Once a minute, before its steps: use of ice, and what has worn meanwhile. */
    void minute(double now, Surroundings around, double lidOpenFactor) {
        plant.condenser.refresh();
        double melt = bin.minute(around.drawKgPerHour, around.roomCelsius, lidOpenFactor);
        if (pumped) {
            drain.step(now, 60, melt, told);
        }
    }

    void step(double now, double seconds, Surroundings around) {
        controller.step(now, seconds, around);
        plant.iceCannotFall = bin.isBackedUp();
        plant.iceBelow = bin.cools();
        plant.step(seconds, controller.on, around);
        sensors.step(seconds, plant, controller.on.compressor, around.roomCelsius);
        double fallen = plant.takeReleased();
        bin.kg += fallen;
        madeKg += fallen;
        bin.sense(seconds);
        if (pumped && around.power) {
            drain.step(now, seconds, plant.sump.takeWaste(), told);
            if (drain.overrunsInARow >= 2) {
                drain.overrunsInARow = 0;
                controller.drainOverrun(now);
            }
        }
    }
}
