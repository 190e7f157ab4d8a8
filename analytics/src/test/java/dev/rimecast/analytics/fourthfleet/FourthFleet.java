package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.analytics.fleetfiles.LivingFleet;
import dev.rimecast.analytics.fleetfiles.Row;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.file.WeatherRow;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Register;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/**
 * A fleet of batch machines whose physics were written from handbook physics and common practice without knowledge of the
 * detectors and of the two other simulators: nothing of the machines is shared with those, so that detectors can be judged
 * where they were not tuned. Six groups, three climates, 33 causes; two faults at once, continuous machines and late or
 * repeated readings do not occur.
 */
final class FourthFleet implements LivingFleet {
    private final FourthFleetPlan plan;
    private final List<FleetSite> sites = new ArrayList<>();
    private final Chance forecast;

    FourthFleet(FourthFleetPlan plan) {
        this.plan = plan;
        Chance chance = new Chance(plan.seed());
        forecast = chance.split();
        Map<Climate, Weather> weather = new EnumMap<>(Climate.class);
        for (Climate climate : Climate.values()) {
            weather.put(climate, new Weather(climate, plan.start(), plan.days(), chance.split()));
        }
        List<SiteDraft> drafts = new FleetBuilder(plan, chance.split(), chance.split()).sites();
        List<MachineDraft> machines =
                drafts.stream().flatMap(draft -> draft.machines.stream()).toList();
        new FaultDeck(plan, chance.split()).deal(machines, plan.soundShare());
        for (SiteDraft draft : drafts) {
            Weather outdoors = weather.getOrDefault(
                    draft.climate, weather.values().iterator().next());
            sites.add(new FleetSite(draft, plan, outdoors, chance.split()));
        }
    }

    @Override
    public List<Channel> channels() {
        return sites.stream().flatMap(FleetSite::channels).distinct().sorted().toList();
    }

    @Override
    public List<Row> advanceTo(double untilSeconds) {
        long until = plan.start() + (long) untilSeconds;
        return sites.parallelStream()
                .flatMap(site -> site.advanceTo(until).stream())
                .sorted(Comparator.comparingLong(Row::arrivesMillis).thenComparing(Row::machine))
                .toList();
    }

    @Override
    public Register register() {
        return new Register(
                sites.stream().flatMap(FleetSite::register).toList(),
                sites.stream().map(FleetSite::site).toList());
    }

    @Override
    public List<EventRow> events() {
        return sites.stream()
                .flatMap(FleetSite::events)
                .sorted(Comparator.comparing(EventRow::at))
                .toList();
    }

    @Override
    public List<WeatherRow> weather() {
        return sites.stream().flatMap(site -> site.forecast(forecast).stream()).toList();
    }

    @Override
    public List<TruthRow> truth() {
        return sites.stream().flatMap(FleetSite::truth).toList();
    }
}
