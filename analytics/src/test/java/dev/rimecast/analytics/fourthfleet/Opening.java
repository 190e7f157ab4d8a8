package dev.rimecast.analytics.fourthfleet;

import java.time.DayOfWeek;
import java.time.LocalTime;
import java.util.Optional;

/**
 * When a place is open.
 *
 * @param opens hour of the day
 * @param closes hour of the day, above 24 for one after midnight
 * @param hoursEast of UTC
 */
record Opening(double opens, double closes, Optional<DayOfWeek> closedDay, int hoursEast) {
    private static final long DAY_SECONDS = 86_400;

    double hour(long t) {
        return (t + hoursEast * 3600L) % DAY_SECONDS / 3600.0;
    }

    DayOfWeek day(long t) {
        return DayOfWeek.of((int) (((t + hoursEast * 3600L) / DAY_SECONDS + 3) % 7) + 1);
    }

    private boolean isClosedDay(long t) {
        return closedDay.equals(Optional.of(day(t)));
    }

    boolean isOpen(long t) {
        if (isClosedDay(t)) {
            return false;
        }
        double hour = hour(t);
        return closes <= 24 ? hour >= opens && hour < closes : hour >= opens || hour < closes - 24;
    }

    /** Whether a place that turns its machines off has done so: from half an hour after closing to an hour before opening. */
    boolean isNight(long t) {
        if (isClosedDay(t)) {
            return true;
        }
        double hour = hour(t);
        double on = opens - 1;
        return closes <= 24 ? hour < on || hour >= Math.min(closes + .5, 23.99) : hour < on && hour >= closes - 24 + .5;
    }

    /** Epoch seconds of an hour of the local day that the UTC day of a time has. */
    long at(long t, double hour) {
        return t / DAY_SECONDS * DAY_SECONDS + (long) ((hour - hoursEast) * 3600);
    }

    /** How much ice is taken now against the mean of the open hours: two peaks. */
    double draw(long t) {
        if (!isOpen(t)) {
            return 0;
        }
        double position = hour(t) - opens;
        double z = (position < 0 ? position + 24 : position) / (closes - opens);
        double mean = .35 + 1.3 * .13 * 1.77 + 1.5 * .14 * 1.7;
        return (.35 + 1.3 * hump(z, .35, .13) + 1.5 * hump(z, .78, .14)) / mean;
    }

    static double hump(double x, double centre, double width) {
        double z = (x - centre) / width;
        return Math.exp(-z * z);
    }

    double openSeconds() {
        return (closes - opens) * 3600;
    }

    LocalTime openTime() {
        return LocalTime.ofSecondOfDay((long) (opens * 3600));
    }

    LocalTime closeTime() {
        return LocalTime.ofSecondOfDay((long) (closes * 3600) % DAY_SECONDS);
    }
}
