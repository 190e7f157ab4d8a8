package dev.rimecast.analytics.expect;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.log.SiteRecord.WarmestOfDay;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;

/** The warmest of each day out of doors at one site, as far as anybody told: of days past and of days to come. */
public final class SiteWeather {
    private static final int DAYS_BACK = 21;
    private static final int DAYS_AHEAD = 14;

    private final Map<Long, Float> warmest = new TreeMap<>();

    /** Takes what is expected; days long past and far ahead are left out. */
    public void expect(List<WarmestOfDay> days, long today) {
        for (WarmestOfDay day : days) {
            long number = day.date().toEpochDay();
            if (number >= today - DAYS_BACK && number <= today + DAYS_AHEAD) {
                warmest.put(number, (float) day.maxCelsius());
            }
        }
        warmest.keySet().removeIf(number -> number < today - DAYS_BACK);
    }

    /** Warmest of a day since 1970, °C; empty where nobody told. */
    public OptionalDouble of(long day) {
        Float celsius = warmest.get(day);
        return celsius == null ? OptionalDouble.empty() : OptionalDouble.of(celsius);
    }

    /** Warmest of the days to come, today's included, °C; empty if fewer than {@code fewest} of them are known. */
    public OptionalDouble ahead(long today, int fewest) {
        double most = Double.NEGATIVE_INFINITY;
        int known = 0;
        for (Map.Entry<Long, Float> day : warmest.entrySet()) {
            if (day.getKey() >= today && day.getKey() <= today + DAYS_AHEAD) {
                known++;
                most = Math.max(most, day.getValue());
            }
        }
        return known < fewest ? OptionalDouble.empty() : OptionalDouble.of(most);
    }

    public void save(StateWriter out) {
        out.whole(warmest.size());
        warmest.forEach((day, celsius) -> out.whole(day).real32(celsius));
    }

    public static SiteWeather restore(StateReader in) {
        SiteWeather weather = new SiteWeather();
        for (int count = in.wholeInt(); count > 0; count--) {
            long day = in.whole();
            weather.warmest.put(day, in.real32());
        }
        return weather;
    }
}
