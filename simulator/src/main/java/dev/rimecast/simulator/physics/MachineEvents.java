package dev.rimecast.simulator.physics;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;

/** What a machine's controller says at the moment when it happens. Times are milliseconds since 1970, UTC. */
public interface MachineEvents {
    void phase(long timeMillis, Phase phase);

    /** A length of time that ended now, s. */
    void duration(long timeMillis, Channel channel, double seconds);

    /** The drain tank's level probes are bridged, or no longer. */
    void drainLevel(long timeMillis, boolean bridged);

    /** The machine has stopped itself. */
    void stopped(long timeMillis, StopReason reason);
}
