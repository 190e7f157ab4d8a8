package dev.rimecast.analytics.otherfleet;

/** One reading of a compressor's map; written over at every step so that a step makes no garbage. */
final class OperatingPoint {
    double kgPerSweptCubicMetre;
    /** Electric work per kilogram of refrigerant. */
    double workJoulePerKg;
    /** Heat that one kilogram takes up in the evaporator when it arrives as liquid without subcooling. */
    double effectJoulePerKg;
}
