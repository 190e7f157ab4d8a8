package dev.rimecast.analytics.otherfleet;

import dev.rimecast.analytics.fleetfiles.Row;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.WeatherRow;
import dev.rimecast.telemetry.machine.Site;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/** A site, minute by minute: weather, room, power, gateway, and the machines in it. */
final class OtherSite {
    private static final double DAY_SECONDS = 86_400;

    final Site site;
    final List<Station> stations;
    private final List<EventRow> events;
    private final Premises premises;
    private final Instant start;
    private final Weather weather;
    private final Room room;
    private final List<Outage> outages;
    private final boolean offAtNight;
    private double now;

    /** Mains and gateway are gone (a power cut), or the gateway's link alone, and what it saw is lost. */
    record Outage(double fromSeconds, double toSeconds, boolean power) {
        boolean covers(double now) {
            return now >= fromSeconds && now < toSeconds;
        }
    }

    OtherSite(
            Site site,
            Premises premises,
            Instant start,
            Weather weather,
            Room room,
            List<Outage> outages,
            boolean offAtNight,
            List<Station> stations,
            List<EventRow> events) {
        this.site = site;
        this.premises = premises;
        this.start = start;
        this.weather = weather;
        this.room = room;
        this.outages = outages;
        this.offAtNight = offAtNight;
        this.stations = stations;
        this.events = new ArrayList<>(events);
    }

    /** Lives on until then and gives what has arrived, in the order of arrival. */
    List<Row> advanceTo(double untilSeconds) {
        while (now < untilSeconds) {
            minute();
            now += 60;
        }
        List<Row> arrived = new ArrayList<>();
        for (Station station : stations) {
            arrived.addAll(station.sampler.take(untilSeconds));
        }
        arrived.sort(Comparator.comparingLong(Row::arrivesMillis).thenComparing(Row::machine));
        return arrived;
    }

    private void minute() {
        double outdoor = weather.outdoorCelsius(now);
        double hour = now % DAY_SECONDS / 3600;
        DayOfWeek day = start.plusSeconds((long) now).atZone(ZoneOffset.UTC).getDayOfWeek();
        room.minute(outdoor, hour, day);
        boolean power = !offAtNight || (hour >= Math.max(0, premises.opens - 2) && hour < premises.closes + 0.5);
        for (Outage outage : outages) {
            if (outage.covers(now)) {
                power &= !outage.power();
                stations.forEach(station -> station.sampler.silence(outage.toSeconds()));
            }
        }
        boolean open = premises.isOpen(hour, day);
        double busy = premises.busy(hour, day);
        for (Station station : stations) {
            station.minute(room.airCelsius(), weather.mainsCelsius(now), busy, open, power, hour == 0);
            station.call(start, open).ifPresent(events::add);
        }
    }

    /** What people have reported, or will, from a moment until before another; calls only once they were made. */
    List<EventRow> events(double fromSeconds, double untilSeconds) {
        Instant from = start.plusSeconds((long) fromSeconds);
        Instant until = start.plusSeconds((long) untilSeconds);
        return events.stream()
                .filter(event -> !event.at().isBefore(from) && event.at().isBefore(until))
                .sorted(Comparator.comparing(EventRow::at))
                .toList();
    }

    /** The weather of each day as it will be: a forecast that is right. */
    List<WeatherRow> weather(int days) {
        List<WeatherRow> rows = new ArrayList<>();
        LocalDate first = LocalDate.ofInstant(start, ZoneOffset.UTC);
        for (int day = 0; day < days; day++) {
            double highest = -99;
            for (int hour = 0; hour < 24; hour++) {
                highest = Math.max(highest, weather.outdoorCelsius((day * 24 + hour) * 3600.0));
            }
            rows.add(new WeatherRow(site.id(), first.plusDays(day), Math.round(10 * highest) / 10.0));
        }
        return rows;
    }
}
