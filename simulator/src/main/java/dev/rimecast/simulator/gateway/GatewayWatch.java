package dev.rimecast.simulator.gateway;

import dev.rimecast.telemetry.log.PackNumber;

/** Told what a gateway does, in order, on its threads; for tests that keep accounts. */
public interface GatewayWatch {
    GatewayWatch NONE = new GatewayWatch() {};

    /** Is about to be sent, for the first time or again. */
    default void sends(PackNumber number, byte[] payload) {}

    /** Has its receipt. */
    default void receipt(PackNumber number) {}

    /** Everything up to here is stored for good, says the server. */
    default void covered(PackNumber upTo) {}
}
