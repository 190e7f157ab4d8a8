package dev.rimecast.analytics.twelfthfleet;

import dev.rimecast.telemetry.machine.Machine.Cooling;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import dev.rimecast.telemetry.machine.Machine.ProbeAt;

/**
 * A model group.
 *
 * @param size 1 is a machine of 50 kg a day at the rating conditions
 * @param cups frozen inwards in cups; else on a flat plate
 * @param fanCycles the fan is switched by the condensing temperature
 * @param freezeSet what ends the freeze: °C, s, mm of ice, or kg of water taken from the sump, of a machine of size 1
 * @param freezeTimer what follows on a set temperature, s
 * @param dumped share of the sump that goes to the drain at harvest
 */
record Design(
        String name,
        double size,
        boolean cups,
        Cooling cooling,
        boolean fanCycles,
        EndsBy freezeEnds,
        double freezeSet,
        double freezeTimer,
        EndsBy harvestEnds,
        EndsBy fillEnds,
        ProbeAt probeAt,
        DrainKind drain,
        double dumped) {

    static final Design[] GROUPS = {
        new Design(
                "cup-30",
                0.6,
                true,
                Cooling.AIR,
                false,
                EndsBy.TEMPERATURE,
                -12,
                360,
                EndsBy.TEMPERATURE,
                EndsBy.TIME,
                ProbeAt.PLATE,
                DrainKind.PUMP,
                0.35),
        new Design(
                "plate-70",
                1.4,
                false,
                Cooling.AIR,
                false,
                EndsBy.THICKNESS,
                10,
                0,
                EndsBy.TEMPERATURE,
                EndsBy.LEVEL,
                ProbeAt.PLATE,
                DrainKind.GRAVITY,
                0.6),
        new Design(
                "cup-timed-45",
                0.9,
                true,
                Cooling.AIR,
                true,
                EndsBy.TIME,
                1380,
                0,
                EndsBy.TEMPERATURE,
                EndsBy.TIME,
                ProbeAt.PLATE,
                DrainKind.PUMP,
                0.35),
        new Design(
                "plate-remote-150",
                3,
                false,
                Cooling.REMOTE,
                true,
                EndsBy.LEVEL,
                1.05,
                0,
                EndsBy.TIME,
                EndsBy.LEVEL,
                ProbeAt.OUTLET,
                DrainKind.GRAVITY,
                0.6),
        new Design(
                "plate-water-100",
                2,
                false,
                Cooling.WATER,
                false,
                EndsBy.THICKNESS,
                10,
                0,
                EndsBy.TEMPERATURE,
                EndsBy.LEVEL,
                ProbeAt.PLATE,
                DrainKind.GRAVITY,
                0.5),
        new Design(
                "cup-90",
                1.8,
                true,
                Cooling.AIR,
                true,
                EndsBy.TEMPERATURE,
                -13,
                300,
                EndsBy.TEMPERATURE,
                EndsBy.TIME,
                ProbeAt.OUTLET,
                DrainKind.PUMP,
                0.4),
    };

    double ratedKgPerDay() {
        return Math.round(50 * size);
    }

    double binKg() {
        return Math.round(22 * size);
    }

    /** Level limit of the drain tank, s. */
    double drainLimitSeconds() {
        return 6;
    }
}
