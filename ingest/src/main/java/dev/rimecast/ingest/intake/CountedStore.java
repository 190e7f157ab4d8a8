package dev.rimecast.ingest.intake;

import java.util.function.Consumer;

/** A store that counts what goes in and what came of it, so that no transport can forget to. */
public final class CountedStore implements Store {
    private final Store store;
    private final IntakeCounters counters;

    public CountedStore(Store store, IntakeCounters counters) {
        this.store = store;
        this.counters = counters;
    }

    @Override
    public void store(Decision decision, Consumer<Boolean> done) {
        counters.arrived(decision);
        long arrived = System.nanoTime();
        store.store(decision, isStored -> {
            counters.settled(decision.tally(), isStored, System.nanoTime() - arrived);
            done.accept(isStored);
        });
    }

    @Override
    public boolean isFull() {
        return store.isFull();
    }

    @Override
    public boolean isClosed() {
        return store.isClosed();
    }

    @Override
    public void onRoom(Runnable listener) {
        store.onRoom(listener);
    }
}
