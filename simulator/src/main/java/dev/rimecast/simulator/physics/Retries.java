package dev.rimecast.simulator.physics;

/** How often a machine has stopped itself since it last finished a cycle. */
final class Retries {
    private int stops;
    private int allowed = Integer.MAX_VALUE;

    void stopped(StopReason reason) {
        stops++;
        allowed = reason.tries();
    }

    boolean exhausted() {
        return stops > allowed;
    }

    void clear() {
        stops = 0;
    }
}
