package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.view.Changes;
import java.util.Set;
import java.util.concurrent.CopyOnWriteArraySet;
import java.util.function.Consumer;
import java.util.function.UnaryOperator;

/** Changes that a test makes. */
public final class FakeChanges implements Changes {
    private final Set<Consumer<Change>> listeners = new CopyOnWriteArraySet<>();
    private UnaryOperator<String> siteOf = machine -> "site-1";

    @Override
    public Subscription subscribe(Consumer<Change> listener) {
        listeners.add(listener);
        return () -> listeners.remove(listener);
    }

    /** @param siteOf tells where a machine is */
    void placeWith(UnaryOperator<String> siteOf) {
        this.siteOf = siteOf;
    }

    public void publish(String kind, String machine, String id) {
        publish(kind, siteOf.apply(machine), machine, id);
    }

    public void publish(String kind, String site, String machine, String id) {
        publish(new Change(kind, site, machine, id));
    }

    public void publish(Change change) {
        listeners.forEach(listener -> listener.accept(change));
    }

    public int listeners() {
        return listeners.size();
    }
}
