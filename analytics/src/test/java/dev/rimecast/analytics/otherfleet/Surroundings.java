package dev.rimecast.analytics.otherfleet;

/** What a machine meets from outside in the minute to come. */
final class Surroundings {
    double roomCelsius = 21;
    double mainsCelsius = 15;
    boolean power = true;
    /** Mains voltage relative to nominal. */
    double voltage = 1;

    double drawKgPerHour;
}
