package dev.rimecast.analytics.otherfleet;

/** What the controller has switched on. */
final class Actuators {
    boolean compressor;
    boolean fan;
    boolean circulation;
    boolean hotGas;
    boolean inlet;
    boolean dump;

    void allOff() {
        compressor = false;
        fan = false;
        circulation = false;
        hotGas = false;
        inlet = false;
        dump = false;
    }
}
