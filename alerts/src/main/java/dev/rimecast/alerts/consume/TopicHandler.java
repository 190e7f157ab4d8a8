package dev.rimecast.alerts.consume;

import dev.rimecast.alerts.view.Changes.Change;
import java.util.Collection;
import java.util.List;
import org.apache.kafka.common.header.Headers;
import org.jdbi.v3.core.Handle;

/**
 * What the records of one topic do to the database. Used by one thread.
 *
 * @param <T> what a record holds
 */
interface TopicHandler<T> {

    String topic();

    /**
     * @param key the site
     * @param headers what is told beside it
     * @throws RuntimeException if it is not a record of ours: it goes to the dead letters
     */
    T decode(String key, byte[] value, Headers headers);

    /**
     * Takes records in, in order, inside the transaction that moves the offset.
     *
     * @return what the pages should look at again once it is committed
     */
    Collection<Change> apply(Handle transaction, List<T> records);

    /**
     * Whether a transaction may be lost with the server's last moment before a power cut: it is lost as a whole, with its offset,
     * and the records are read again. So it need not wait for the disk. Not where somebody is told of what was committed.
     */
    default boolean canBeReadAgain() {
        return false;
    }

    /**
     * Records of one transaction, at most. Fewer where it locks sites: whoever acts on an alert of one of them waits for its end, which in a storm of
     * thousands of alerts would be minutes.
     */
    default int mostAtOnce() {
        return Integer.MAX_VALUE;
    }

    /** What was applied last is committed. */
    default void committed() {}

    /** Forgets what it holds in memory: the transaction was rolled back, or partitions changed hands. */
    void forget();
}
