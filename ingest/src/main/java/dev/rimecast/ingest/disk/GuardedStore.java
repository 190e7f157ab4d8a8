package dev.rimecast.ingest.disk;

import dev.rimecast.ingest.intake.Decision;
import dev.rimecast.ingest.intake.Store;
import java.util.function.Consumer;

/** A store that counts as full while its disk is; what is under way is still stored. */
public final class GuardedStore implements Store {
    private final Store store;
    private final DiskGuard guard;

    public GuardedStore(Store store, DiskGuard guard) {
        this.store = store;
        this.guard = guard;
    }

    @Override
    public void store(Decision decision, Consumer<Boolean> done) {
        store.store(decision, done);
    }

    @Override
    public boolean isFull() {
        return guard.isClosed() || store.isFull();
    }

    @Override
    public boolean isClosed() {
        return guard.isClosed();
    }

    /** Tells of a closing as well: whoever reads has to stop without a message that makes it look. */
    @Override
    public void onRoom(Runnable listener) {
        store.onRoom(listener);
        guard.onChange(listener);
    }
}
