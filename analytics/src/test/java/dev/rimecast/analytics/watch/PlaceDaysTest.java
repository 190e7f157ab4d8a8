package dev.rimecast.analytics.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.expect.SiteWeather;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.log.SiteRecord.WarmestOfDay;
import java.time.LocalDate;
import java.util.List;
import org.junit.jupiter.api.Test;

class PlaceDaysTest {
    private static final long FIRST_DAY = LocalDate.of(2026, 6, 1).toEpochDay();
    private static final int DAYS = 12;
    private static final long TODAY = FIRST_DAY + DAYS - 1;

    private final PlaceDays days = new PlaceDays();
    private final SiteWeather weather = new SiteWeather();

    private static double outside(int day) {
        return 18 + day * 7 % 11;
    }

    private void pass(double share, double above) {
        for (int day = 0; day < DAYS; day++) {
            double room = 20 + share * (outside(day) - 20) + above;
            for (int hour = 0; hour < 24; hour++) {
                double air = room - 3 * Math.abs(hour - 15) / 15.0;
                days.see(air, 15, ((FIRST_DAY + day) * 24 + hour) * 3_600_000L);
            }
        }
    }

    private void tell(long firstDay, double... celsius) {
        for (int i = 0; i < celsius.length; i++) {
            LocalDate date = LocalDate.ofEpochDay(firstDay + i);
            weather.expect(List.of(new WarmestOfDay(date, celsius[i])), TODAY);
        }
    }

    private void tellPast() {
        for (int day = 0; day < DAYS; day++) {
            tell(FIRST_DAY + day, outside(day));
        }
    }

    @Test
    void room_followsTheWeatherByHalf_soDoesTheWarmestDayAhead() {
        pass(0.5, 4);
        tellPast();
        tell(TODAY + 1, 30, 36, 31);

        assertThat(days.warmestAhead(weather)).hasValueCloseTo(20 + 0.5 * 16 + 4, within(0.05));
    }

    @Test
    void coldSpellAhead_isNoWarmerThanIsExpected() {
        pass(1, 2);
        tellPast();
        tell(TODAY, 12, 14, 13, 12);

        assertThat(days.warmestAhead(weather)).hasValueCloseTo(16.0, within(0.05));
        assertThat(days.warmestAir()).isGreaterThan(25);
    }

    @Test
    void roomWithACooler_doesNotFollow() {
        pass(0, 3);
        tellPast();
        tell(TODAY + 1, 40, 41, 40);

        assertThat(days.warmestAhead(weather)).hasValueCloseTo(23.0, within(0.05));
    }

    @Test
    void noWeatherOrOnlyOfDaysPast_isNone() {
        pass(0.5, 4);
        assertThat(days.warmestAhead(weather)).isEmpty();
        tellPast();
        assertThat(days.warmestAhead(weather)).isEmpty();
    }

    @Test
    void weather_isKeptFromThreeWeeksAgoToTwoWeeksAhead_alsoAfterARestart() {
        tell(TODAY - 22, 20);
        tell(TODAY - 21, 21);
        tell(TODAY + 14, 22);
        tell(TODAY + 15, 23);
        tell(TODAY + 14, 24);
        StateWriter out = new StateWriter();
        weather.save(out);
        SiteWeather restored = SiteWeather.restore(new StateReader(out.toBytes()));

        assertThat(restored.of(TODAY - 22)).isEmpty();
        assertThat(restored.of(TODAY - 21)).hasValue(21);
        assertThat(restored.of(TODAY + 14)).hasValue(24);
        assertThat(restored.of(TODAY + 15)).isEmpty();
    }
}
