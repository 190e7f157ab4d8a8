package dev.rimecast.simulator.place;

import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;

/**
 * The room that machines stand in: follows the weather with a lag, warmed by what goes on in it. Mains water follows
 * the season. Not safe for threads.
 */
public final class Room {
    private static final double LAG_SECONDS = 2.5 * 3600;
    private static final double WATER_MEAN_CELSIUS = 13;
    private static final double WATER_SWING_KELVIN = 4.5;
    private static final int WATER_WARMEST_DAY = 225;
    private static final long DAY_MILLIS = 86_400_000;

    private final Weather weather;
    private final SiteKind kind;
    private final Climate climate;
    private final long offsetMillis;
    private double celsius;
    private boolean begun;

    /**
     * @param zone its offset at {@code from} is kept: a room does not know of daylight saving
     */
    public Room(Weather weather, SiteKind kind, Climate climate, ZoneId zone, Instant from) {
        this.weather = weather;
        this.kind = kind;
        this.climate = climate;
        ZoneOffset offset = zone.getRules().getOffset(from);
        offsetMillis = offset.getTotalSeconds() * 1000L;
    }

    /**
     * Steps the room.
     *
     * @param addedKelvin on top, e.g. a heat wave or a room that is too hot
     */
    public void step(long millis, double seconds, double addedKelvin) {
        double target = target(millis) + addedKelvin;
        celsius = begun ? celsius + Math.min(1, seconds / LAG_SECONDS) * (target - celsius) : target;
        begun = true;
    }

    private double target(long millis) {
        double outdoors = outdoorsCelsius(millis);
        return kind.baseCelsius()
                + kind.coupling() * (outdoors - 15)
                + kind.gainKelvin(hour(millis), isWeekend(millis));
    }

    private double outdoorsCelsius(long millis) {
        return weather.celsius(millis + offsetMillis + climate.seasonDays() * DAY_MILLIS) + climate.warmerKelvin();
    }

    public double celsius() {
        return celsius;
    }

    /** Mains water at the inlet, °C. */
    public double waterCelsius(long millis) {
        double days = (millis + offsetMillis) / (double) DAY_MILLIS + climate.seasonDays();
        double angle = 2 * Math.PI * (days % 365.2425 - WATER_WARMEST_DAY) / 365.2425;
        return WATER_MEAN_CELSIUS + 0.6 * climate.warmerKelvin() + WATER_SWING_KELVIN * StrictMath.cos(angle);
    }

    /** Demand of this hour against a weekday's mean. */
    public double use(long millis) {
        return kind.use(hour(millis), isWeekend(millis));
    }

    /** Hour of the place's own clock. */
    public int hour(long millis) {
        return Math.floorMod((millis + offsetMillis) / 3_600_000, 24);
    }

    /** Minute of the day by the place's own clock. */
    public int minuteOfDay(long millis) {
        return Math.floorMod((millis + offsetMillis) / 60_000, 1440);
    }

    private boolean isWeekend(long millis) {
        // 1 January 1970 was a Thursday.
        long day = Math.floorMod(Math.floorDiv(millis + offsetMillis, DAY_MILLIS) + 3, 7L);
        return day >= 5;
    }
}
