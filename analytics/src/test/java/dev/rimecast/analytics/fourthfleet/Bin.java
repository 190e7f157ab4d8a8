package dev.rimecast.analytics.fourthfleet;

/** The store below, and its sensor. */
final class Bin {
    private static final double AGAIN_SHARE = .955;
    private static final double HEAPED_SHARE = 1.25;
    private static final double BACKED_UP_SHARE = 1.15;

    final double capacityKg;
    private final Ailment ailment;
    double kg;
    private boolean full;

    Bin(double capacityKg, double kg, Ailment ailment) {
        this.capacityKg = capacityKg;
        this.kg = kg;
        this.ailment = ailment;
    }

    boolean isFull() {
        return full;
    }

    boolean isBackedUp() {
        return kg > capacityKg * BACKED_UP_SHARE;
    }

    /** One second of use and melt; gives the melted, kg. */
    double second(double drawnKg, double roomCelsius) {
        double melted = (.006 + .0009 * Math.max(0, roomCelsius - 20)) * kg / 3600;
        kg = Math.min(Math.max(0, kg - drawnKg - melted), capacityKg * HEAPED_SHARE);
        full = kg >= capacityKg || (full && kg >= capacityKg * AGAIN_SHARE);
        if (ailment.is(FaultKind.BIN_SENSOR_FAILED)) {
            full = ailment.saysFull();
        }
        return melted;
    }

    /** What the air over it, and so a plate at rest, goes to. */
    double airCelsius(double roomCelsius) {
        if (kg <= .08 * capacityKg) {
            return roomCelsius - 1;
        }
        return 3.5 + .18 * roomCelsius * (kg < .3 * capacityKg ? 1.6 : 1);
    }
}
