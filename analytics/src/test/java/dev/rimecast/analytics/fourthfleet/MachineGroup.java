package dev.rimecast.analytics.fourthfleet;

import static dev.rimecast.telemetry.machine.Machine.EndsBy.LEVEL;
import static dev.rimecast.telemetry.machine.Machine.EndsBy.TEMPERATURE;
import static dev.rimecast.telemetry.machine.Machine.EndsBy.THICKNESS;
import static dev.rimecast.telemetry.machine.Machine.EndsBy.TIME;

import dev.rimecast.telemetry.machine.Machine.Cooling;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import dev.rimecast.telemetry.machine.Machine.ProbeAt;
import dev.rimecast.telemetry.machine.Machine.SprayUnit;
import java.util.Locale;

/** Six groups of batch machines that differ in what ends freeze, harvest and fill, in their condenser and in their drain. */
enum MachineGroup {
    JET_26(Cooling.AIR, 26, SprayUnit.JETS, Ends.TEMPERATURE, ProbeAt.OUTLET, false, Care.of(65, 90, "R290", 3)),
    JET_50(Cooling.AIR, 50, SprayUnit.JETS, Ends.TEMPERATURE, ProbeAt.PLATE, true, Care.of(65, 90, "R290", 4)),
    JET_85W(Cooling.WATER, 85, SprayUnit.JETS, Ends.TEMPERATURE, ProbeAt.PLATE, false, Care.of(62, 90, "R134a", 1.5)),
    PLATE_70(Cooling.AIR, 70, SprayUnit.PLATE, Ends.LEVEL, ProbeAt.OUTLET, true, Care.of(66, 75, "R290", 3)),
    PLATE_130(Cooling.AIR, 130, SprayUnit.PLATE, Ends.THICKNESS, ProbeAt.PLATE, false, Care.of(67, 75, "R452A", 2)),
    BAR_38(Cooling.AIR, 38, SprayUnit.BAR, Ends.TIME, ProbeAt.PLATE, true, Care.of(65, 90, "R290", 1.5));

    /** What ends each phase. */
    enum Ends {
        TEMPERATURE(EndsBy.TEMPERATURE, EndsBy.TEMPERATURE, EndsBy.TIME),
        LEVEL(EndsBy.LEVEL, EndsBy.TEMPERATURE, EndsBy.LEVEL),
        THICKNESS(EndsBy.THICKNESS, EndsBy.TEMPERATURE, EndsBy.LEVEL),
        TIME(EndsBy.TIME, EndsBy.TIME, EndsBy.LEVEL);

        final EndsBy freeze;
        final EndsBy harvest;
        final EndsBy fill;

        Ends(EndsBy freeze, EndsBy harvest, EndsBy fill) {
            this.freeze = freeze;
            this.harvest = harvest;
            this.fill = fill;
        }
    }

    /**
     * What the register says of a group.
     *
     * @param weight how common it is
     */
    record Care(double condensingLimitCelsius, int cleaningDays, String refrigerant, double weight) {
        static Care of(double condensingLimitCelsius, int cleaningDays, String refrigerant, double weight) {
            return new Care(condensingLimitCelsius, cleaningDays, refrigerant, weight);
        }
    }

    final Cooling cooling;
    final double ratedKgPerDay;
    final SprayUnit sprayUnit;
    final Ends ends;
    final ProbeAt probeAt;
    final boolean hasDrainPump;
    final Care care;

    MachineGroup(
            Cooling cooling,
            double ratedKgPerDay,
            SprayUnit sprayUnit,
            Ends ends,
            ProbeAt probeAt,
            boolean hasDrainPump,
            Care care) {
        this.cooling = cooling;
        this.ratedKgPerDay = ratedKgPerDay;
        this.sprayUnit = sprayUnit;
        this.ends = ends;
        this.probeAt = probeAt;
        this.hasDrainPump = hasDrainPump;
        this.care = care;
    }

    String code() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** Against a machine of 50 kg a day. */
    double size() {
        return ratedKgPerDay / 50;
    }

    boolean isWaterCooled() {
        return cooling == Cooling.WATER;
    }

    /** The large one's fan goes on at 36 °C and off at 28 °C. */
    boolean fanCycles() {
        return this == PLATE_130;
    }

    /** Where the timer of the freeze starts, °C. */
    double freezeEndCelsius() {
        return this == JET_26 ? -12 : -13;
    }

    double freezeTimerSeconds() {
        return this == JET_26 ? 430 : 400;
    }

    /** Ice of one batch where level or thickness ends the freeze, kg for a machine of 50 kg a day. */
    double batchKg() {
        return ends.freeze == THICKNESS ? 1.02 : 0.98;
    }

    boolean freezesBy(EndsBy end) {
        return ends.freeze == end;
    }

    boolean harvestsByTemperature() {
        return ends.harvest == TEMPERATURE;
    }

    boolean fillsByTime() {
        return ends.fill == TIME;
    }

    boolean fillsByLevel() {
        return ends.fill == LEVEL;
    }
}
