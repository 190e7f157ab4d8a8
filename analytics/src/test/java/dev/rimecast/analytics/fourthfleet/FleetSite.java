package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.analytics.fleetfiles.Row;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.file.WeatherRow;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Site;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;

/** A site that lives: rooms and use each minute, machines each second. Sites share nothing that changes. */
final class FleetSite {
    private static final double FORECAST_KELVIN = 1.2;

    private final SiteDraft draft;
    private final FourthFleetPlan plan;
    private final Weather weather;
    private final List<FleetMachine> machines = new ArrayList<>();
    private final List<Gateway> gateways = new ArrayList<>();
    private long now;

    FleetSite(SiteDraft draft, FourthFleetPlan plan, Weather weather, Chance chance) {
        this.draft = draft;
        this.plan = plan;
        this.weather = weather;
        now = plan.start();
        for (MachineDraft machine : draft.machines) {
            Surroundings around = new Surroundings();
            around.roomCelsius = draft.rooms.get(machine.room).celsius();
            around.mainsCelsius = draft.climate.mainsCelsius(now);
            Gateway gateway = new Gateway(
                    machine.id,
                    machine.channels,
                    draft.gaps.get(machine.gateway),
                    plan.sampleSeconds(),
                    draft.gatewayOffToo,
                    chance.split());
            gateways.add(gateway);
            machines.add(new FleetMachine(machine, around, now, chance.split(), gateway));
        }
    }

    /** Lives on until then and gives what was said, in its order. */
    List<Row> advanceTo(long until) {
        while (now < until) {
            minute();
            now += 60;
        }
        List<Row> rows = new ArrayList<>();
        for (Gateway gateway : gateways) {
            rows.addAll(gateway.take(until * 1000));
        }
        rows.sort(Comparator.comparingLong(Row::timeMillis).thenComparing(Row::machine));
        return rows;
    }

    private void minute() {
        double outdoor = weather.celsius(now);
        for (int i = 0; i < draft.rooms.size(); i++) {
            draft.rooms.get(i).minute(now, outdoor, draft.opening, hotKelvin(i));
        }
        double mains = draft.climate.mainsCelsius(now);
        for (FleetMachine machine : machines) {
            Surroundings around = machine.around;
            around.roomCelsius = draft.rooms.get(machine.draft.room).celsius() + machine.draft.traits.placeKelvin;
            around.mainsCelsius = mains;
            around.open = draft.opening.isOpen(now);
            around.switchedOff = draft.offAtNight && draft.opening.isNight(now);
            around.drawnKgPerSecond = drawn(machine.draft, outdoor);
        }
        for (int i = 0; i < machines.size(); i++) {
            FleetMachine machine = machines.get(i);
            Gateway gateway = gateways.get(i);
            for (long t = now; t < now + 60; t++) {
                machine.second(t);
                if (gateway.isDue(t)) {
                    gateway.sample(t, machine.plant, machine.probes, machine.phase());
                }
            }
        }
    }

    private double hotKelvin(int room) {
        for (FleetMachine machine : machines) {
            boolean here = machine.draft.room == room && machine.draft.fault.kind() == FaultKind.ROOM_TOO_HOT;
            if (here && machine.ailment.isDueAt(now)) {
                return machine.draft.fault.size();
            }
        }
        return 0;
    }

    private double drawn(MachineDraft machine, double outdoor) {
        double day = draft.dayUse.get((int) ((now - plan.start()) / 86_400));
        double usual = machine.use.share() * machine.traits.group.ratedKgPerDay * day;
        double warm = 1 + .018 * (outdoor - 17);
        double week = weekday(draft.opening.day(now));
        return Math.max(0, usual * week * warm * draft.opening.draw(now) / draft.opening.openSeconds());
    }

    private static double weekday(DayOfWeek day) {
        return switch (day) {
            case FRIDAY, SATURDAY -> 1.25;
            case SUNDAY -> 1.05;
            case MONDAY, TUESDAY, WEDNESDAY, THURSDAY -> .92;
        };
    }

    Stream<Channel> channels() {
        return draft.machines.stream().flatMap(machine -> machine.channels.stream());
    }

    Stream<EventRow> events() {
        return draft.logbook.until(plan.end()).stream();
    }

    Stream<TruthRow> truth() {
        return machines.stream().map(machine -> machine.truth(plan.end()));
    }

    /** A forecast of each day's maximum, wrong by a little. */
    List<WeatherRow> forecast(Chance chance) {
        LocalDate first = LocalDate.ofEpochDay(Math.floorDiv(plan.start(), 86_400L));
        List<WeatherRow> rows = new ArrayList<>();
        for (int day = 0; day < plan.days(); day++) {
            double highest = weather.highest(day) + chance.gauss(FORECAST_KELVIN);
            rows.add(new WeatherRow(draft.id, first.plusDays(day), Math.round(10 * highest) / 10.0));
        }
        return rows;
    }

    Site site() {
        return Registered.site(draft);
    }

    Stream<Machine> register() {
        return draft.machines.stream().map(Registered::machine);
    }
}
