package dev.rimecast.analytics.otherfleet;

import dev.rimecast.telemetry.machine.Machine.EndsBy;
import dev.rimecast.telemetry.machine.Machine.ProbeAt;

/** Sets a machine's controller by trial batches in a mild room; where time alone ends a freeze, in a warm one. */
final class Commissioning {
    private static final double STEP_SECONDS = 2;
    private static final double TIMER_FROM_SHARE_OF_BATCH = 0.75;
    private static final double HARVEST_TIME_RESERVE = 2.9;
    private static final int BATCHES = 3;
    private static final int MOST_STEPS = 3000;

    private final Surroundings around = new Surroundings();
    private final Plant plant;
    private final Sensors sensors;
    private final Actuators on = new Actuators();
    private double shownAtTimer;
    private double timerSeconds;
    private double freezeSeconds;
    private double harvestSeconds;

    private Commissioning(Design design, Sensors.Quality quality) {
        boolean byTime = design.model().freezeEndsBy() == EndsBy.TIME;
        around.roomCelsius = byTime ? 26 : 21;
        around.mainsCelsius = byTime ? 17 : 15;
        plant = new Plant(design, new Wear(), around);
        sensors = new Sensors(quality, design.model().probeAt(), around.roomCelsius);
    }

    static Settings of(Design design, Sensors.Quality quality) {
        Commissioning trial = new Commissioning(design, quality);
        for (int i = 0; i < BATCHES; i++) {
            trial.fill();
            trial.freeze();
            trial.harvest();
        }
        return new Settings(
                trial.shownAtTimer,
                trial.timerSeconds,
                trial.freezeSeconds,
                design.model().probeAt() == ProbeAt.OUTLET ? 8 : 6.5,
                HARVEST_TIME_RESERVE * trial.harvestSeconds,
                1.25 * design.sumpKg() / design.fillKgPerSecond(),
                Settings.ANTI_SHORT_CYCLE_SECONDS);
    }

    private void step() {
        plant.step(STEP_SECONDS, on, around);
        sensors.step(STEP_SECONDS, plant, on.compressor, around.roomCelsius);
    }

    private void fill() {
        on.allOff();
        on.inlet = true;
        for (int i = 0; i < MOST_STEPS && plant.sump.waterKg < 0.99 * plant.design.sumpKg(); i++) {
            step();
        }
    }

    private void freeze() {
        on.allOff();
        on.compressor = true;
        on.fan = true;
        on.circulation = true;
        timerSeconds = 0;
        int steps = 0;
        while (plant.iceKg < plant.design.batchKg() && steps++ < MOST_STEPS) {
            step();
            if (plant.iceKg < TIMER_FROM_SHARE_OF_BATCH * plant.design.batchKg()) {
                shownAtTimer = sensors.evaporatorShown();
            } else {
                timerSeconds += STEP_SECONDS;
            }
        }
        freezeSeconds = steps * STEP_SECONDS;
    }

    private void harvest() {
        on.allOff();
        on.compressor = true;
        on.hotGas = true;
        on.dump = true;
        int steps = 0;
        while (plant.iceKg > 0 && steps++ < MOST_STEPS) {
            step();
        }
        harvestSeconds = steps * STEP_SECONDS;
    }
}
