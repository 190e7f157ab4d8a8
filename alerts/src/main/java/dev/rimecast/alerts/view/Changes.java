package dev.rimecast.alerts.view;

import java.util.function.Consumer;

/** Live updates: what changed, after it was committed. */
public interface Changes {

    /**
     * Calls {@code listener} for every change until the subscription is closed. The listener must not block.
     */
    Subscription subscribe(Consumer<Change> listener);

    /** Ends when closed. */
    interface Subscription extends AutoCloseable {
        @Override
        void close();
    }

    /**
     * Something to look at again.
     *
     * @param kind {@code alert}, {@code cycle}, {@code reading} or {@code visit}; {@link #EVERYTHING} has a kind of its own
     * @param site where it is
     * @param machine empty for an alert about a gateway or a site
     * @param id the alert's id, else empty
     */
    record Change(String kind, String site, String machine, String id) {
        /** Some changes were missed: whatever is shown has to be looked at again. */
        public static final Change EVERYTHING = new Change("everything", "", "", "");
    }
}
