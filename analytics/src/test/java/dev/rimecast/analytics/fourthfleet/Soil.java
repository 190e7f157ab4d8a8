package dev.rimecast.analytics.fourthfleet;

/** The little dust and scale that sound machines have, too; as shares of conductance and of contact resistance. */
final class Soil {
    double dust;
    double scale;
}
