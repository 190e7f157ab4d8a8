package dev.rimecast.analytics.otherfleet;

import java.time.DayOfWeek;
import java.time.LocalTime;
import java.util.Set;

/** What a machine stands in: heat by the hour of the day, heating, hours of use. Common practice, no source. */
enum Premises {
    KITCHEN(21, 2.5, 6.0, 11, 22, 0.35, Set.of(DayOfWeek.MONDAY)),
    BAR(20, 3, 2.5, 16, 24, 0.2, Set.of()),
    WARD(22, 0.5, 1.0, 6, 21, 0.1, Set.of()),
    CANTEEN(20, 3, 4.0, 7, 16, 0.3, Set.of(DayOfWeek.SATURDAY, DayOfWeek.SUNDAY)),
    HOTEL(21, 1.5, 2.0, 6, 23, 0.15, Set.of());

    final double heatedToCelsius;
    final double nightSetBackKelvin;
    final double busyGainKelvin;
    final double opens;
    final double closes;
    /** How closely the room follows the weather once it is warmer outside than the heating keeps it. */
    final double openness;

    final Set<DayOfWeek> closedDays;

    Premises(
            double heatedToCelsius,
            double nightSetBackKelvin,
            double busyGainKelvin,
            double opens,
            double closes,
            double openness,
            Set<DayOfWeek> closedDays) {
        this.heatedToCelsius = heatedToCelsius;
        this.nightSetBackKelvin = nightSetBackKelvin;
        this.busyGainKelvin = busyGainKelvin;
        this.opens = opens;
        this.closes = closes;
        this.openness = openness;
        this.closedDays = closedDays;
    }

    boolean isOpen(double hourOfDay, DayOfWeek day) {
        return !closedDays.contains(day) && hourOfDay >= opens && hourOfDay < closes;
    }

    /** How busy it is, 0 to 1: meal times, evenings, rounds of a ward. */
    double busy(double hourOfDay, DayOfWeek day) {
        if (!isOpen(hourOfDay, day)) {
            return 0.02;
        }
        double weekend = day == DayOfWeek.FRIDAY || day == DayOfWeek.SATURDAY ? 1.25 : 0.95;
        return weekend
                * switch (this) {
                    case KITCHEN -> peak(hourOfDay, 12.8, 1.2) + peak(hourOfDay, 19.6, 1.7);
                    case BAR -> 0.25 + peak(hourOfDay, 21.5, 2.3);
                    case WARD -> 0.45 + 0.3 * peak(hourOfDay, 9, 1) + 0.3 * peak(hourOfDay, 15, 1.2);
                    case CANTEEN -> 0.1 + peak(hourOfDay, 12.2, 1);
                    case HOTEL -> 0.3 + 0.5 * peak(hourOfDay, 8.5, 1.3) + 0.7 * peak(hourOfDay, 20, 2);
                };
    }

    private static double peak(double hour, double at, double width) {
        double x = (hour - at) / width;
        return Math.exp(-0.5 * x * x);
    }

    LocalTime openTime() {
        return LocalTime.of((int) opens, 0);
    }

    LocalTime closeTime() {
        return closes >= 24 ? LocalTime.of(23, 59) : LocalTime.of((int) closes, 0);
    }
}
