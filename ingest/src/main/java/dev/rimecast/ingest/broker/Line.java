package dev.rimecast.ingest.broker;

import dev.rimecast.ingest.mqtt.PackNumbers;

/** One connection to the broker, from the attempt to its end; used once. No method but {@link #leave()} blocks. */
interface Line {

    /**
     * A message as it came.
     *
     * @param packetId of a message with QoS 1; means nothing on another line
     */
    @SuppressWarnings("ArrayRecordComponent") // carried, never compared
    record Arrival(String topic, byte[] payload, int qos, int packetId, PackNumbers.Result number) {}

    /** What a line tells; from any thread, and never waited for long. */
    interface Listener {
        /**
         * Connected, and the subscriptions are granted.
         *
         * @param isSessionPresent whether the broker remembered us: if not, what it kept for us is gone
         */
        void up(boolean isSessionPresent);

        /** May come before {@link #up}: a broker goes on with a session at once. */
        void arrived(Arrival arrival);

        /**
         * Could not be made, or has ended.
         *
         * @param reason for an operator
         */
        void down(String reason);
    }

    /** Begins lines. */
    interface Opener {
        /** Begins to connect, and returns at once. */
        Line open(Listener listener);
    }

    /** Acknowledges a message of this line. On a line that is down nothing happens. */
    void acknowledge(int packetId);

    /**
     * Publishes with QoS 1, not retained. On a line that is down nothing happens.
     *
     * @param done called when the broker has it or has refused it, from any thread; maybe not at all if the line ends
     */
    void publish(String topic, byte[] payload, Runnable done);

    /** Ends the line without a word; the session stays. */
    void drop();

    /** Says goodbye and ends the line; the session stays. Takes up to two seconds. */
    void leave();
}
