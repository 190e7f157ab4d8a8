package dev.rimecast.analytics.twelfthfleet;

import dev.rimecast.analytics.fleetfiles.LivingFleet;
import dev.rimecast.analytics.fleetfiles.Row;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.file.WeatherRow;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/** The whole fleet: machines on sites, all drawn from one seed. */
final class TwelfthFleet implements LivingFleet {
    private final List<FleetMachine> machines;
    private final List<Place> places;
    private final List<String> siteIds;
    private final LocalDate start;
    private final int days;
    private final Register register;
    private List<Row> held = new ArrayList<>();

    TwelfthFleet(List<FleetMachine> machines, List<Place> places, List<String> siteIds, LocalDate start, int days) {
        this.machines = machines;
        this.places = places;
        this.siteIds = siteIds;
        this.start = start;
        this.days = days;
        List<Site> sites = new ArrayList<>();
        for (int i = 0; i < places.size(); i++) {
            sites.add(site(siteIds.get(i), places.get(i)));
        }
        this.register = new Register(machines.stream().map(m -> m.registered).toList(), sites);
    }

    private Site site(String id, Place place) {
        Set<DayOfWeek> closed = EnumSet.noneOf(DayOfWeek.class);
        if (place.closedWeekday >= 0) {
            closed.add(start.plusDays(place.closedWeekday).getDayOfWeek());
        }
        return new Site(
                id,
                id,
                ZoneId.of("UTC"),
                Optional.of(LocalTime.of(place.open, 0)),
                Optional.of(LocalTime.of(place.close, 0)),
                closed,
                Optional.empty(),
                Optional.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty());
    }

    @Override
    public List<Channel> channels() {
        Set<Channel> all = EnumSet.noneOf(Channel.class);
        machines.forEach(m -> all.addAll(m.channels()));
        return List.copyOf(all);
    }

    @Override
    public List<Row> advanceTo(double untilSeconds) {
        List<List<Row>> parts =
                machines.parallelStream().map(m -> m.advance(untilSeconds)).toList();
        parts.forEach(held::addAll);
        boolean last = untilSeconds >= days * 86_400.0;
        long until = start.atStartOfDay(ZoneOffset.UTC).toInstant().toEpochMilli() + (long) (untilSeconds * 1000);
        List<Row> now = new ArrayList<>();
        List<Row> later = new ArrayList<>();
        for (Row row : held) {
            (last || row.arrivesMillis() <= until ? now : later).add(row);
        }
        held = later;
        now.sort(Comparator.comparingLong(Row::arrivesMillis)
                .thenComparingLong(Row::timeMillis)
                .thenComparing(Row::machine));
        return now;
    }

    @Override
    public Register register() {
        return register;
    }

    @Override
    public List<EventRow> events() {
        List<EventRow> all = new ArrayList<>();
        Instant end = at(days * 86_400.0);
        machines.forEach(
                m -> m.events.stream().filter(e -> e.at().isBefore(end)).forEach(all::add));
        for (int i = 0; i < places.size(); i++) {
            Place place = places.get(i);
            for (int d = 1; d < days; d++) {
                if (place.holiday[d] != place.holiday[d - 1]) {
                    all.add(new EventRow(
                            at(d * 86_400.0 + 3600),
                            Optional.empty(),
                            Optional.of(siteIds.get(i)),
                            place.holiday[d] ? EventKind.CLOSED_FROM : EventKind.CLOSED_TO,
                            "",
                            "staff",
                            ""));
                }
            }
        }
        all.sort(Comparator.comparing(EventRow::at));
        return all;
    }

    private Instant at(double seconds) {
        return start.atStartOfDay(ZoneOffset.UTC).toInstant().plusMillis((long) (seconds * 1000));
    }

    @Override
    public List<WeatherRow> weather() {
        List<WeatherRow> rows = new ArrayList<>();
        for (int i = 0; i < places.size(); i++) {
            for (int d = 0; d < days; d++) {
                rows.add(new WeatherRow(siteIds.get(i), start.plusDays(d), Math.round(places.get(i).maximum[d])));
            }
        }
        return rows;
    }

    @Override
    public List<TruthRow> truth() {
        List<TruthRow> rows = new ArrayList<>();
        for (FleetMachine m : machines) {
            if (m.fault == null) {
                rows.add(new TruthRow(
                        m.registered.id(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty()));
                continue;
            }
            double deadline = m.fault.deadline();
            if (m.fault.growth() > 0) {
                deadline = Math.min(deadline, m.stopped().orElse(1e15));
            }
            rows.add(new TruthRow(
                    m.registered.id(),
                    Optional.of(m.fault.cause()),
                    Optional.of(at(m.fault.onset())),
                    m.stopped().map(this::at),
                    Optional.of(at(deadline))));
        }
        return rows;
    }

    List<FleetMachine> machines() {
        return machines;
    }
}
