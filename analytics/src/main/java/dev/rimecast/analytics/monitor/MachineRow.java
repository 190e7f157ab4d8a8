package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.machine.Machine;
import java.time.LocalDate;
import java.util.Optional;
import java.util.OptionalInt;

/** A machine's register row in the state's bytes. */
final class MachineRow {
    private MachineRow() {}

    static void save(StateWriter out, Machine machine) {
        out.text(machine.id()).text(machine.site()).text(machine.gateway());
        out.optionalText(machine.room()).optionalText(machine.modelGroup()).optionalText(machine.serial());
        out.u8(machine.kind().ordinal()).u8(machine.condenserCooling().ordinal());
        out.measured(machine.ratedKgPerDay()).measured(machine.binKg()).optionalText(machine.refrigerant());
        saveEndsBy(out, machine.freezeEndsBy());
        saveEndsBy(out, machine.harvestEndsBy());
        saveEndsBy(out, machine.fillEndsBy());
        out.u8(machine.evaporatorProbeAt().ordinal());
        Machine.Limits limits = machine.limits();
        out.optionalReal(limits.condensingCelsius()).optionalReal(limits.pullDownSeconds());
        out.optionalReal(limits.drainLevelSeconds()).optionalReal(limits.drainRunOnSeconds());
        out.u8(machine.drainKind().ordinal()).whole(machine.startDelaySeconds());
        Machine.PlaceLimits place = machine.place();
        out.measured(place.ambientMinCelsius()).measured(place.ambientMaxCelsius());
        out.measured(place.waterMinCelsius()).measured(place.waterMaxCelsius());
        Machine.CareIntervals care = machine.care();
        saveDays(out, care.cleaningDays());
        saveDays(out, care.airFilterDays());
        saveDays(out, care.waterFilterDays());
        saveDays(out, care.lampDays());
        saveDate(out, machine.installed());
        saveDate(out, machine.lampInstalled());
        saveDate(out, machine.warrantyUntil());
    }

    static Machine restore(StateReader in) {
        return new Machine(
                in.text(),
                in.text(),
                in.text(),
                in.optionalText(),
                in.optionalText(),
                in.optionalText(),
                Machine.Kind.values()[in.u8()],
                Machine.Cooling.values()[in.u8()],
                in.measured(),
                in.measured(),
                in.optionalText(),
                readEndsBy(in),
                readEndsBy(in),
                readEndsBy(in),
                Machine.ProbeAt.values()[in.u8()],
                new Machine.Limits(in.optionalReal(), in.optionalReal(), in.optionalReal(), in.optionalReal()),
                Machine.DrainKind.values()[in.u8()],
                in.wholeInt(),
                new Machine.PlaceLimits(in.measured(), in.measured(), in.measured(), in.measured()),
                new Machine.CareIntervals(readDays(in), readDays(in), readDays(in), readDays(in)),
                readDate(in),
                readDate(in),
                readDate(in));
    }

    private static void saveEndsBy(StateWriter out, Optional<Machine.EndsBy> endsBy) {
        out.u8(endsBy.map(e -> e.ordinal() + 1).orElse(0));
    }

    private static Optional<Machine.EndsBy> readEndsBy(StateReader in) {
        int code = in.u8();
        return code == 0 ? Optional.empty() : Optional.of(Machine.EndsBy.values()[code - 1]);
    }

    private static void saveDays(StateWriter out, OptionalInt days) {
        out.whole(days.orElse(Integer.MIN_VALUE));
    }

    private static OptionalInt readDays(StateReader in) {
        int days = in.wholeInt();
        return days == Integer.MIN_VALUE ? OptionalInt.empty() : OptionalInt.of(days);
    }

    private static void saveDate(StateWriter out, Optional<LocalDate> date) {
        out.whole(date.map(LocalDate::toEpochDay).orElse(Long.MIN_VALUE));
    }

    private static Optional<LocalDate> readDate(StateReader in) {
        long day = in.whole();
        return day == Long.MIN_VALUE ? Optional.empty() : Optional.of(LocalDate.ofEpochDay(day));
    }
}
