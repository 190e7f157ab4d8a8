package dev.rimecast.analytics.otherfleet;

/**
 * What the controller was set to when the machine was put up: switch-over points found by a trial batch, as a fitter does.
 *
 * @param freezeEndCelsius the probe's temperature at which the timer starts
 * @param freezeTimerSeconds from there to the harvest; the whole freeze where it ends by time
 * @param harvestEndCelsius the probe's temperature at which the harvest ends
 * @param harvestSeconds the whole harvest where it ends by time
 * @param startDelaySeconds from power-on to the first fill
 */
record Settings(
        double freezeEndCelsius,
        double freezeTimerSeconds,
        double freezeSeconds,
        double harvestEndCelsius,
        double harvestSeconds,
        double fillSeconds,
        double startDelaySeconds) {
    static final double PULL_DOWN_LIMIT_SECONDS = 900;
    static final double CONDENSING_LIMIT_CELSIUS = 65;
    static final double LONGEST_FREEZE_SECONDS = 3600;
    static final double LONGEST_HARVEST_SECONDS = 720;
    static final double SHORTEST_FREEZE_SECONDS = 300;
    static final double ANTI_SHORT_CYCLE_SECONDS = 180;
    static final double FILL_TIMEOUT_SECONDS = 420;

    Settings withStartDelay(double seconds) {
        return new Settings(
                freezeEndCelsius,
                freezeTimerSeconds,
                freezeSeconds,
                harvestEndCelsius,
                harvestSeconds,
                fillSeconds,
                seconds);
    }
}
