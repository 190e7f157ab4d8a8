package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.view.Changes;
import java.util.Set;
import java.util.concurrent.CopyOnWriteArraySet;
import java.util.function.Consumer;

/** Changes that a test makes. */
public final class FakeChanges implements Changes {
    private final Set<Consumer<Change>> listeners = new CopyOnWriteArraySet<>();

    @Override
    public Subscription subscribe(Consumer<Change> listener) {
        listeners.add(listener);
        return () -> listeners.remove(listener);
    }

    public void publish(String kind, String machine, String id) {
        Change change = new Change(kind, machine, id);
        listeners.forEach(listener -> listener.accept(change));
    }

    public int listeners() {
        return listeners.size();
    }
}
