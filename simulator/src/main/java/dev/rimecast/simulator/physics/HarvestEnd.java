package dev.rimecast.simulator.physics;

/** What the controller ends a harvest by. It does not know whether the ice is off. */
public sealed interface HarvestEnd {
    /** No harvest by temperature is shorter, s. */
    double SHORTEST_SECONDS = 60;

    /** No harvest by temperature is longer, s. */
    double LONGEST_SECONDS = 420;

    /** The probe has come up to a temperature. */
    record Temperature(double celsius) implements HarvestEnd {}

    /** So much time has passed, s. */
    record Time(double seconds) implements HarvestEnd {}
}
