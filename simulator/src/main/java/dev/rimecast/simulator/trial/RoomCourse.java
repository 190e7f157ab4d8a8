package dev.rimecast.simulator.trial;

import dev.rimecast.simulator.place.Climate;
import dev.rimecast.simulator.place.Room;
import dev.rimecast.simulator.place.SiteKind;
import dev.rimecast.simulator.place.Weather;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;

/** How warm a room is hour by hour, before anything is done to it. */
final class RoomCourse {
    /** Between these a sound machine is well inside its own limits; the simulator's tests hold it to that. */
    static final double COLDEST_CELSIUS = 12;

    static final double HOTTEST_CELSIUS = 34;

    private final Instant from;
    private final double[] celsius;

    RoomCourse(SiteKind kind, Climate climate, ZoneId zone, Instant from, Instant to) {
        this.from = from;
        Room room = new Room(Weather.recorded(), kind, climate, zone, from);
        celsius = new double[(int) Duration.between(from, to).toHours() + 1];
        for (int hour = 0; hour < celsius.length; hour++) {
            room.step(from.plus(Duration.ofHours(hour)).toEpochMilli(), 3600, 0);
            celsius[hour] = room.celsius();
        }
    }

    double hottest() {
        return hottest(from, from.plus(Duration.ofHours(celsius.length)));
    }

    double coldest() {
        return coldest(from, from.plus(Duration.ofHours(celsius.length)));
    }

    double hottest(Instant begin, Instant end) {
        double hottest = Double.NEGATIVE_INFINITY;
        for (int hour = hour(begin); hour <= hour(end); hour++) {
            hottest = Math.max(hottest, celsius[hour]);
        }
        return hottest;
    }

    double coldest(Instant begin, Instant end) {
        double coldest = Double.POSITIVE_INFINITY;
        for (int hour = hour(begin); hour <= hour(end); hour++) {
            coldest = Math.min(coldest, celsius[hour]);
        }
        return coldest;
    }

    private int hour(Instant at) {
        long hour = Duration.between(from, at).toHours();
        return (int) Math.max(0, Math.min(celsius.length - 1, hour));
    }
}
