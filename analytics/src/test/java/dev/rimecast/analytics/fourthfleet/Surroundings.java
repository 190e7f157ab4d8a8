package dev.rimecast.analytics.fourthfleet;

/** What a machine meets, set once a minute. */
final class Surroundings {
    double roomCelsius = 22;
    double mainsCelsius = 15;
    double drawnKgPerSecond;
    boolean switchedOff;
    boolean open = true;
}
