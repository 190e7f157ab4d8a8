package dev.rimecast.simulator.fleet;

/** What a machine's gateway can read. */
public enum ChannelSet {
    /** The controller and every probe, with drain edges. */
    FULL,
    /** Two strap-on probes and the phase. */
    TEMPERATURES_AND_PHASE,
    /** Two strap-on probes. */
    TEMPERATURES,
    /** The controller's times of a cycle and, seldom, the two temperatures. */
    DURATIONS;

    boolean phase() {
        return this == FULL || this == TEMPERATURES_AND_PHASE;
    }

    boolean durations() {
        return this == FULL || this == DURATIONS;
    }

    boolean place() {
        return this == FULL;
    }

    /** Step of a temperature reading, K: strap-on probes are coarser. */
    double stepKelvin() {
        return this == FULL || this == DURATIONS ? 0.1 : 0.5;
    }
}
