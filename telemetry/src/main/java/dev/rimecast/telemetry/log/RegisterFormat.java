package dev.rimecast.telemetry.log;

import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Site;
import java.time.DayOfWeek;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.EnumSet;
import java.util.Optional;
import java.util.Set;

/** The rows of the register, whole: all columns in the order of their record, so that the log needs nothing beside it. */
final class RegisterFormat {
    private RegisterFormat() {}

    static void write(RecordWriter out, Machine machine) {
        out.text(machine.id());
        out.text(machine.site());
        out.text(machine.gateway());
        out.optionalText(machine.room());
        out.optionalText(machine.modelGroup());
        out.optionalText(machine.serial());
        out.choice(machine.kind());
        out.choice(machine.condenserCooling());
        out.float64(machine.ratedKgPerDay());
        out.float64(machine.binKg());
        out.optionalText(machine.refrigerant());
        out.optionalChoice(machine.freezeEndsBy());
        out.optionalChoice(machine.harvestEndsBy());
        out.optionalChoice(machine.fillEndsBy());
        out.choice(machine.evaporatorProbeAt());
        out.optionalFloat64(machine.limits().condensingCelsius());
        out.optionalFloat64(machine.limits().pullDownSeconds());
        out.optionalFloat64(machine.limits().drainLevelSeconds());
        out.optionalFloat64(machine.limits().drainRunOnSeconds());
        out.choice(machine.drainKind());
        out.signed(machine.startDelaySeconds());
        out.float64(machine.place().ambientMinCelsius());
        out.float64(machine.place().ambientMaxCelsius());
        out.float64(machine.place().waterMinCelsius());
        out.float64(machine.place().waterMaxCelsius());
        out.optionalInt(machine.care().cleaningDays());
        out.optionalInt(machine.care().airFilterDays());
        out.optionalInt(machine.care().waterFilterDays());
        out.optionalInt(machine.care().lampDays());
        out.optionalDate(machine.installed());
        out.optionalDate(machine.lampInstalled());
        out.optionalDate(machine.warrantyUntil());
        if (!machine.build().equals(Machine.Build.NOT_SAID)) {
            out.optionalChoice(machine.build().sprayUnit());
            out.optionalChoice(machine.build().drain());
            out.optionalChoice(machine.build().cooling());
        }
    }

    /** Java evaluates arguments from left to right (JLS 15.7.4), which is the order of the format. */
    static Machine readMachine(RecordReader in) {
        return new Machine(
                in.text(),
                in.text(),
                in.text(),
                in.optionalText(),
                in.optionalText(),
                in.optionalText(),
                in.choice(Machine.Kind.values()),
                in.choice(Machine.Cooling.values()),
                in.float64(),
                in.float64(),
                in.optionalText(),
                in.optionalChoice(Machine.EndsBy.values()),
                in.optionalChoice(Machine.EndsBy.values()),
                in.optionalChoice(Machine.EndsBy.values()),
                in.choice(Machine.ProbeAt.values()),
                new Machine.Limits(
                        in.optionalFloat64(), in.optionalFloat64(), in.optionalFloat64(), in.optionalFloat64()),
                in.choice(Machine.DrainKind.values()),
                in.signedInt(),
                new Machine.PlaceLimits(in.float64(), in.float64(), in.float64(), in.float64()),
                new Machine.CareIntervals(in.optionalInt(), in.optionalInt(), in.optionalInt(), in.optionalInt()),
                in.optionalDate(),
                in.optionalDate(),
                in.optionalDate(),
                readBuild(in));
    }

    /** Added later, at the end: a record that ends before says nothing of it, and one without it has the same bytes. */
    private static Machine.Build readBuild(RecordReader in) {
        return in.isAtEnd()
                ? Machine.Build.NOT_SAID
                : new Machine.Build(
                        in.optionalChoice(Machine.SprayUnit.values()),
                        in.optionalChoice(Machine.DrainKind.values()),
                        in.optionalChoice(Machine.Cooling.values()));
    }

    static void write(RecordWriter out, Site site) {
        out.text(site.id());
        out.text(site.name());
        out.text(site.timeZone().getId());
        writeTime(out, site.open());
        writeTime(out, site.close());
        out.octet(bitsOf(site.closedDays()));
        out.optionalText(site.contact());
        out.optionalText(site.language());
        out.optionalFloat64(site.kgPerDay());
        out.optionalFloat64(site.responseHours());
    }

    static Site readSite(RecordReader in) {
        return new Site(
                in.text(),
                in.text(),
                ZoneId.of(in.text()),
                readTime(in),
                readTime(in),
                readDays(in),
                in.optionalText(),
                in.optionalText(),
                in.optionalFloat64(),
                in.optionalFloat64());
    }

    private static void writeTime(RecordWriter out, Optional<LocalTime> time) {
        out.flag(time.isPresent());
        time.ifPresent(at -> out.unsigned(at.toNanoOfDay()));
    }

    private static Optional<LocalTime> readTime(RecordReader in) {
        return in.flag() ? Optional.of(LocalTime.ofNanoOfDay(in.unsigned())) : Optional.empty();
    }

    /** Monday is the lowest bit. */
    private static int bitsOf(Set<DayOfWeek> days) {
        int bits = 0;
        for (DayOfWeek day : days) {
            bits |= 1 << day.getValue() - 1;
        }
        return bits;
    }

    private static Set<DayOfWeek> readDays(RecordReader in) {
        int bits = in.octet();
        if (bits > 0x7f) {
            throw in.malformed("days of the week " + bits);
        }
        Set<DayOfWeek> days = EnumSet.noneOf(DayOfWeek.class);
        for (DayOfWeek day : DayOfWeek.values()) {
            if ((bits & 1 << day.getValue() - 1) != 0) {
                days.add(day);
            }
        }
        return days;
    }
}
