package dev.rimecast.ingest.intake;

import java.util.function.Consumer;

/** Where the writes of a decision go. */
public interface Store {

    /**
     * Takes the writes of one message. Never blocks and never refuses: whoever calls looks at {@link #isFull()} and
     * stops reading. Writes of one caller that go to the same site are stored in the order of the calls.
     *
     * @param done called once, on any thread: true when every write is stored for good; false when at least one may
     *     not be, so that the message must be sent again
     */
    void store(Decision decision, Consumer<Boolean> done);

    /** Whether so much is under way that nothing more should be read. */
    boolean isFull();

    /** Whether it is full for reasons that last, so that who can should go away and come again. */
    default boolean isClosed() {
        return false;
    }

    /** Has {@code listener} called, on any thread, at least each time that a full store has room again; it looks for itself. */
    void onRoom(Runnable listener);
}
