package dev.rimecast.alerts.store;

import dev.rimecast.alerts.ice.BinRecord;
import dev.rimecast.alerts.ice.DrawProfile;
import dev.rimecast.alerts.ice.IceClock;
import dev.rimecast.alerts.ice.IceOutlook;
import dev.rimecast.alerts.ice.MachineIce;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Site;
import java.sql.Timestamp;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/** Reckons a site's ice clock from what the database holds of the last weeks. */
final class IceReckoner {
    private static final Duration LOOKS_BACK = Duration.ofDays(42);
    /** Of the need that the register gives per day; common practice, no source. */
    private static final double ERROR_OF_REGISTER = 0.5;

    private IceReckoner() {}

    static IceOutlook reckon(Handle handle, Site site, Instant now) {
        Known known = known(handle, site, now);
        return known.why().isEmpty() ? IceClock.run(now, known.machines()) : new IceOutlook.NotKnown(known.why());
    }

    /** What each machine of a site has and can do; empty where that can't be told of all. */
    static Optional<List<MachineIce>> machinesIce(Handle handle, Site site, Instant now) {
        Known known = known(handle, site, now);
        return known.why().isEmpty() ? Optional.of(known.machines()) : Optional.empty();
    }

    /**
     * @param why nobody can tell; empty where all is known
     */
    private record Known(List<MachineIce> machines, String why) {
        static Known not(String why) {
            return new Known(List.of(), why);
        }
    }

    private static Known known(Handle handle, Site site, Instant now) {
        List<Machine> machines = machines(handle, site.id());
        Set<String> standing = standing(handle, site.id());
        double rated = machines.stream().mapToDouble(Machine::ratedKgPerDay).sum();
        List<MachineIce> known = new ArrayList<>();
        for (Machine machine : machines) {
            if (machine.kind() == Machine.Kind.CONTINUOUS) {
                return Known.not(machine.id() + " makes ice all the time and does not say how much");
            }
            BinRecord record = record(handle, machine, now);
            Optional<DrawProfile> draw = record.draw(site.timeZone())
                    .or(() -> ofRegister(site, machine.ratedKgPerDay() / rated))
                    .or(() -> record.drawOfAllMade(site.timeZone()));
            if (draw.isEmpty()) {
                return Known.not("what is taken from " + machine.id() + " is not learned yet");
            }
            boolean runs = !standing.contains(machine.id());
            Optional<MachineIce> ice =
                    record.now(now, draw.get(), runs).or(() -> record.halfKnown(now, draw.get(), runs));
            if (ice.isEmpty()) {
                return Known.not(machine.id() + " has never said that its bin is full, nor made ice in the last weeks");
            }
            known.add(ice.get());
        }
        return known.isEmpty() ? Known.not("no machine is registered") : new Known(List.copyOf(known), "");
    }

    private static Optional<DrawProfile> ofRegister(Site site, double share) {
        return site.kgPerDay().isEmpty()
                ? Optional.empty()
                : Optional.of(
                        DrawProfile.even(site.timeZone(), site.kgPerDay().getAsDouble() * share, ERROR_OF_REGISTER));
    }

    private static List<Machine> machines(Handle handle, String site) {
        return RegisterStore.machinesOf(handle, site);
    }

    /** Machines that make no ice now: stopped, silent, or out of service. */
    private static Set<String> standing(Handle handle, String site) {
        return handle.createQuery("""
                        select machine from alert where site = :site and machine is not null and cleared_at is null
                            and state <> 'normal' and (stage = 'stopped' or condition in ('machine-silent', 'not-making-ice'))
                            and state <> 'suppressed-by-design'
                        union select subject from alert_hold where site = :site and kind = 'out-of-service'
                            and condition is null and ended_at is null""").bind("site", site).mapTo(String.class).stream()
                .collect(Collectors.toSet());
    }

    private static BinRecord record(Handle handle, Machine machine, Instant now) {
        Instant from = now.minus(LOOKS_BACK);
        record Made(Instant start, Instant end, boolean complete) {}
        List<Made> made = handle.createQuery("select freeze_start, ended, complete from cycle"
                        + " where machine = :machine and freeze_start >= :from and ended <= :now order by ended")
                .bind("machine", machine.id())
                .bind("from", from)
                .bind("now", now)
                .map((row, context) -> new Made(
                        row.getTimestamp(1).toInstant(), row.getTimestamp(2).toInstant(), row.getBoolean(3)))
                .list();
        List<BinRecord.Full> fulls = handle.createQuery(
                        "select began, ended from bin_full"
                                + " where machine = :machine and began <= :now and (ended is null or ended >= :from) order by began")
                .bind("machine", machine.id())
                .bind("from", from)
                .bind("now", now)
                .map((row, context) -> {
                    @Nullable Timestamp ended = row.getTimestamp(2);
                    return new BinRecord.Full(
                            row.getTimestamp(1).toInstant(),
                            Optional.ofNullable(ended).map(Timestamp::toInstant));
                })
                .list();
        BinRecord record = new BinRecord(
                machine.ratedKgPerDay(),
                machine.binKg(),
                fulls,
                made.stream().map(Made::end).toList(),
                made.stream()
                        .filter(Made::complete)
                        .map(cycle -> Duration.between(cycle.start(), cycle.end()))
                        .toList());
        return lastHeard(handle, machine.id())
                .map(last -> record.heardUntil(last.isBefore(now) ? last : now))
                .orElse(record);
    }

    private static Optional<Instant> lastHeard(Handle handle, String machine) {
        return handle.createQuery("select newest from latest_row where machine = :machine")
                .bind("machine", machine)
                .map((row, context) -> row.getTimestamp(1).toInstant())
                .findOne();
    }
}
