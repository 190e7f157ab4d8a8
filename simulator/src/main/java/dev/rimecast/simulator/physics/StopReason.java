package dev.rimecast.simulator.physics;

/** Why a machine stopped itself, with how often it tries again before it stays stopped, and after how long. */
public enum StopReason {
    /** The freeze did not reach 0 °C in time. */
    PULL_DOWN(3, 1800),
    /** The condenser got too hot. */
    CONDENSING(10, 300),
    /** The water in the drain tank did not get away in time. */
    DRAIN(3, 1200),
    /** Three harvests in a row ran to their longest time without warming the evaporator. */
    NO_HARVEST(2, 1800);

    private final int tries;
    private final int pauseSeconds;

    StopReason(int tries, int pauseSeconds) {
        this.tries = tries;
        this.pauseSeconds = pauseSeconds;
    }

    int tries() {
        return tries;
    }

    int pauseSeconds() {
        return pauseSeconds;
    }
}
