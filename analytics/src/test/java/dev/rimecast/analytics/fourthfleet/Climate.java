package dev.rimecast.analytics.fourthfleet;

import java.time.ZoneId;

/** Three climates: means and swings of the air out of doors and of the water in the mains, °C. */
enum Climate {
    INLAND("Europe/Vienna", 2, new Air(12.5, 8.5, 5), 13, 5.5),
    SOUTH("Europe/Athens", 3, new Air(18, 8.5, 5.5), 16.5, 6),
    COAST("Europe/Dublin", 1, new Air(9.5, 7.5, 4), 10.5, 4.5);

    private static final double YEAR_DAYS = 365.25;

    /** Mean of the year, swing of the year, swing of the day. */
    record Air(double meanCelsius, double yearKelvin, double dayKelvin) {}

    final ZoneId zone;
    /** In summer, when these fleets live. */
    final int hoursEast;

    final Air air;
    private final double mainsMeanCelsius;
    private final double mainsYearKelvin;

    Climate(String zone, int hoursEast, Air air, double mainsMeanCelsius, double mainsYearKelvin) {
        this.zone = ZoneId.of(zone);
        this.hoursEast = hoursEast;
        this.air = air;
        this.mainsMeanCelsius = mainsMeanCelsius;
        this.mainsYearKelvin = mainsYearKelvin;
    }

    static double season(double epochDays, double warmestDay) {
        return Math.cos(2 * Math.PI * (epochDays % YEAR_DAYS - warmestDay) / YEAR_DAYS);
    }

    double mainsCelsius(long t) {
        return mainsMeanCelsius + mainsYearKelvin * season(t / 86_400.0, 225);
    }
}
