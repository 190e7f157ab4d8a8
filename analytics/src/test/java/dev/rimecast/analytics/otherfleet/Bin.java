package dev.rimecast.analytics.otherfleet;

/** Stored ice: what falls in, what is taken, what melts, and the sensor that says full. */
final class Bin {
    private static final double SETTLE_SECONDS = 120;
    private static final double MELT_PER_HOUR_AND_KELVIN = 0.0006;

    private final double holdsKg;
    private final Wear wear;
    double kg;
    private boolean full;
    private double settled;

    Bin(double holdsKg, Wear wear, double kg) {
        this.holdsKg = holdsKg;
        this.wear = wear;
        this.kg = kg;
    }

    /** A minute's use; returns meltwater, kg. */
    double minute(double drawKgPerHour, double roomCelsius, double lidOpenFactor) {
        kg -= Math.min(kg, drawKgPerHour / 60);
        double melted = kg * MELT_PER_HOUR_AND_KELVIN * Math.max(0, roomCelsius) * lidOpenFactor / 60;
        kg -= melted;
        return melted;
    }

    void sense(double seconds) {
        boolean above = full ? kg > 0.93 * holdsKg : kg > holdsKg;
        settled = above == full ? 0 : settled + seconds;
        if (settled > SETTLE_SECONDS) {
            full = above;
            settled = 0;
        }
    }

    boolean isFull() {
        return wear.binStuckFull || (full && !wear.binStuckEmpty);
    }

    /** How cold it keeps what is above it, 0 to 1. */
    double cools() {
        return Math.min(1, kg / (0.2 * holdsKg));
    }

    /** Ice has backed up to the plate: nothing can fall. */
    boolean isBackedUp() {
        return kg > 1.35 * holdsKg;
    }
}
