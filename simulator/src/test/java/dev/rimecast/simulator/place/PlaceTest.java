package dev.rimecast.simulator.place;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Instant;
import java.time.ZoneOffset;
import org.junit.jupiter.api.Test;

class PlaceTest {
    private static final long HOUR = 3_600_000;
    private final Weather weather = Weather.recorded();

    @Test
    void weather_ofTheFirstRecordedDays_givesTheirMeansAndStaysWithinTheirExtremes() {
        // The record's first lines: 1 January 12.8/5.0, 2 January 10.6/2.8 °C. 2012 repeats with a period of 1461 days.
        long first = Instant.parse("2012-01-01T00:00:00Z").toEpochMilli();
        assertThat(weather.dayMeanCelsius(first)).isCloseTo(8.9, within(1e-9));
        assertThat(weather.dayMeanCelsius(first + 24 * HOUR)).isCloseTo(6.7, within(1e-9));
        for (int hour = 12; hour < 36; hour++) {
            assertThat(weather.celsius(first + hour * HOUR)).isBetween(2.8, 12.8);
        }
    }

    @Test
    void weather_fromHourToHour_hasNoJumps() {
        long start = Instant.parse("2026-01-01T00:00:00Z").toEpochMilli();
        for (long quarter = 0; quarter < 4 * 24 * 365; quarter++) {
            double step =
                    weather.celsius(start + (quarter + 1) * HOUR / 4) - weather.celsius(start + quarter * HOUR / 4);
            assertThat(Math.abs(step)).isLessThan(1.5);
        }
    }

    @Test
    void room_overTheYear_staysWithinWhatAMachineMayStandIn() {
        // Common practice: 10 to 38 °C in the room, 5 to 35 °C at the inlet.
        for (SiteKind kind : SiteKind.values()) {
            Instant from = Instant.parse("2026-01-01T00:00:00Z");
            Room room = new Room(weather, kind, Climate.RECORDED, ZoneOffset.UTC, from);
            for (long hour = 0; hour < 24 * 365; hour++) {
                long millis = from.toEpochMilli() + hour * HOUR;
                room.step(millis, 3600, 0);
                assertThat(room.celsius()).isBetween(10.0, 38.0);
                assertThat(room.waterCelsius(millis)).isBetween(5.0, 35.0);
            }
        }
    }

    @Test
    void use_overAnOrdinaryWeekday_hasTheMeanOne() {
        for (SiteKind kind : SiteKind.values()) {
            double sum = 0;
            for (int hour = 0; hour < 24; hour++) {
                sum += kind.use(hour, false);
            }
            assertThat(sum / 24).isCloseTo(1, within(1e-9));
        }
    }

    @Test
    void bin_filledAndEmptied_callsForIceOnlyWhenATenthHasGone() {
        IceBin bin = new IceBin(20, 19.5);
        bin.add(1);
        assertThat(bin.isFull()).isTrue();
        assertThat(bin.take(2)).isEqualTo(2);
        assertThat(bin.isFull()).isTrue();
        bin.take(1);
        assertThat(bin.isFull()).isFalse();
        assertThat(bin.take(100)).isCloseTo(17.5, within(1e-9));
        assertThat(bin.kg()).isZero();
    }

    @Test
    void bin_leftAlone_meltsByNearlyATenthADay() {
        IceBin bin = new IceBin(20, 20);
        double water = 0;
        for (int minute = 0; minute < 1440; minute++) {
            water += bin.melt(60, 25);
        }
        assertThat(water).isBetween(1.5, 2.0);
        assertThat(bin.kg() + water).isCloseTo(20, within(1e-9));
    }
}
