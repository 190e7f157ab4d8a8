package dev.rimecast.simulator.physics;

/** What the controller ends a freeze by. Every kind also ends at {@link #LONGEST_SECONDS}. */
public sealed interface FreezeEnd {
    /** No freeze is longer, s. */
    double LONGEST_SECONDS = 3600;

    /** The probe has come down to a temperature, and a timer has run from there. */
    record Temperature(double cutOutCelsius, double timerSeconds) implements FreezeEnd {}

    /** So much water has gone from the sump, kg. */
    record Level(double usedKg) implements FreezeEnd {}

    /** The ice is as thick as this, mm. */
    record Thickness(double millimetres) implements FreezeEnd {}

    /** So much time has passed, s. */
    record Time(double seconds) implements FreezeEnd {}
}
