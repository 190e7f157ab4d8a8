package dev.rimecast.analytics.stream;

/**
 * How the stage is.
 *
 * @param reason why it is as it is, for a person; empty when it runs
 */
public record StageHealth(State state, String reason) {

    /** What the stage does now. */
    public enum State {
        /** Every partition of this instance is being processed. */
        RUNNING,
        /** Partitions are being handed out or their state is being restored; also while Kafka does not answer. */
        REBALANCING,
        /** Stopped by itself; it takes a restart of the process, once the reason is mended. */
        FAILED,
        /** Closed by its owner. */
        CLOSED
    }

    public boolean isRunning() {
        return state == State.RUNNING;
    }
}
