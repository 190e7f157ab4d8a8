package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import dev.rimecast.telemetry.machine.Site;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;

/** What the register says of a drawn site and its machines. */
final class Registered {
    private Registered() {}

    static Site site(SiteDraft draft) {
        double kgPerDay = draft.machines.stream()
                .mapToDouble(machine -> machine.use.share() * machine.traits.group.ratedKgPerDay)
                .sum();
        Opening opening = draft.opening;
        return new Site(
                draft.id,
                "House " + draft.id.substring(draft.id.indexOf('-') + 1),
                draft.climate.zone,
                Optional.of(opening.openTime()),
                Optional.of(opening.closeTime()),
                opening.closedDay().map(Set::of).orElseGet(Set::of),
                Optional.empty(),
                Optional.of("en"),
                OptionalDouble.of(Math.round(kgPerDay)),
                OptionalDouble.of(24));
    }

    static Machine machine(MachineDraft draft) {
        MachineGroup group = draft.traits.group;
        boolean pumped = group.hasDrainPump;
        return new Machine(
                draft.id,
                draft.site.id,
                "gw-" + draft.site.id.substring(draft.site.id.indexOf('-') + 1) + (char) ('a' + draft.gateway),
                Optional.of(draft.site.rooms.get(draft.room).name),
                Optional.of(group.code()),
                Optional.of(draft.papers.serial()),
                Machine.Kind.BATCH,
                group.cooling,
                group.ratedKgPerDay,
                Math.round(draft.use.binKg()),
                Optional.of(group.care.refrigerant()),
                Optional.of(group.ends.freeze),
                Optional.of(group.ends.harvest),
                Optional.of(group.ends.fill),
                group.probeAt,
                new Machine.Limits(
                        OptionalDouble.of(group.care.condensingLimitCelsius()),
                        OptionalDouble.of(Controls.PULL_DOWN_LIMIT_SECONDS),
                        pumped ? OptionalDouble.of(Drain.LIMIT_SECONDS) : OptionalDouble.empty(),
                        pumped ? OptionalDouble.of(draft.drainRunOnSeconds) : OptionalDouble.empty()),
                pumped ? DrainKind.PUMP : DrainKind.GRAVITY,
                (int) Controls.START_DELAY_SECONDS,
                Machine.PlaceLimits.USUAL,
                new Machine.CareIntervals(
                        OptionalInt.of(group.care.cleaningDays()),
                        OptionalInt.empty(),
                        OptionalInt.empty(),
                        OptionalInt.empty()),
                Optional.of(draft.papers.installed()),
                Optional.empty(),
                Optional.empty(),
                Machine.Build.NOT_SAID);
    }
}
