package dev.rimecast.simulator.physics;

/**
 * A drain tank with level probes.
 *
 * @param pumped whether a pump empties it; otherwise the water falls away all the time
 * @param upperKg water at which the probes are bridged
 * @param lowerKg water at which they no longer are
 * @param outKgPerSecond of pump or waste line
 * @param runOnSeconds how long the pump runs after the level signal has ended
 * @param flowDeviation standard deviation of the flow out from cycle to cycle, as a share
 */
public record DrainDesign(
        boolean pumped,
        double upperKg,
        double lowerKg,
        double outKgPerSecond,
        double runOnSeconds,
        double flowDeviation) {

    /** A pump that lifts the water in runs of about three seconds. */
    public static DrainDesign pump(Design design, double runOnSeconds) {
        double s = design.scale();
        return new DrainDesign(true, 1.1 * s, 0.2 * s, 0.35 * s, runOnSeconds, 0.06);
    }

    /**
     * A waste line that takes the dump at harvest with a short rise. How long that lasts hangs on the small difference
     * between dump and line, so a line that varied as a pump does would overrun while it is sound.
     */
    public static DrainDesign gravity(Design design) {
        double s = design.scale();
        return new DrainDesign(false, 0.25 * s, 0.2 * s, 0.25 * s, 0, 0.03);
    }
}
