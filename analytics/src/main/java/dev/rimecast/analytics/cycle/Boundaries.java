package dev.rimecast.analytics.cycle;

/** Takes the turning points of a machine's cycles, as a phase, a temperature or a duration shows them. */
interface Boundaries {
    void freezeStart(long millis);

    void freezeEnd(long millis);

    void harvestEnd(long millis);

    /** The harvest is over, and nothing says to the minute when: no freeze has followed. */
    void harvestFaded(long millis);

    /** Whatever was going on has ended without being finished. */
    void interrupted(long millis);
}
