package dev.rimecast.analytics.otherfleet;

/** The limits at which a machine stops itself: three stops within some hours lock it until somebody switches it off and on. */
final class Protection {
    static final double UNTIL_RESET = 1e9;
    private static final double PRESSURE_SWITCH_CELSIUS = 68;
    private static final double PAUSE_SECONDS = 900;
    private static final double WINDOW_SECONDS = 4 * 3600;
    private static final int STOPS_TO_LOCK = 3;

    private final Plant plant;
    private final Sensors sensors;
    private double windowFrom = -1e9;
    private int stops;
    private double firstStop = -1;

    Protection(Plant plant, Sensors sensors) {
        this.plant = plant;
        this.sensors = sensors;
    }

    void reset() {
        stops = 0;
    }

    /** How long to stop now, s; 0 to go on. */
    double inFreeze(double now, double inPhase, boolean crossedZero) {
        boolean slow = !crossedZero && inPhase >= Settings.PULL_DOWN_LIMIT_SECONDS;
        return slow || isTooHot() ? pause(now) : 0;
    }

    double inHarvest(double now) {
        return isTooHot() ? pause(now) : 0;
    }

    private boolean isTooHot() {
        double pressure = plant.condenser.condensingCelsius + plant.wear.airKelvin;
        double shown = sensors.condenserShown();
        return pressure >= PRESSURE_SWITCH_CELSIUS || (shown >= Settings.CONDENSING_LIMIT_CELSIUS && shown < 110);
    }

    private double pause(double now) {
        if (now - windowFrom > WINDOW_SECONDS) {
            windowFrom = now;
            stops = 0;
        }
        stops++;
        return stops >= STOPS_TO_LOCK ? UNTIL_RESET : PAUSE_SECONDS;
    }

    void stopped(double now) {
        if (firstStop < 0) {
            firstStop = now;
        }
    }

    /** When it first stopped itself, s; negative while it never has. */
    double firstStop() {
        return firstStop;
    }
}
