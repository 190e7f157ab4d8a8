package dev.rimecast.alerts.consume;

import dev.rimecast.alerts.view.Changes;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Iterator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Tells listeners what was committed. The same change that waits already is not queued twice; when more than
 * {@value #BOUND} different ones wait, the oldest goes, so a slow listener costs memory to that bound and no more.
 *
 * <p>Readings come from every machine all the time and are told apart from the rest, behind it: however many there are, they never
 * hold up an alert nor push one out.
 */
public final class ChangeFeed implements Changes, AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(ChangeFeed.class);
    private static final int BOUND = 10_000;
    private static final String READING = "reading";
    /** Told before it is looked again whether something else has come. */
    private static final int READINGS_AT_A_TIME = 200;

    private final List<Consumer<Change>> listeners = new CopyOnWriteArrayList<>();
    private final Set<Change> waiting = new LinkedHashSet<>();
    private final Set<Change> readings = new LinkedHashSet<>();
    private final Thread thread = new Thread(this::tell, "alerts-changes");
    private final Consumer<Collection<Change>> elsewhere;
    private boolean closed;

    public ChangeFeed() {
        this(changes -> {});
    }

    /** @param elsewhere is told of everything that was committed here, too; must not block */
    public ChangeFeed(Consumer<Collection<Change>> elsewhere) {
        this.elsewhere = elsewhere;
        thread.setDaemon(true);
        thread.start();
    }

    /** To be called after the commit. Never blocks on listeners. */
    public void publish(Collection<Change> changes) {
        elsewhere.accept(changes);
        publishHere(changes);
    }

    /** What was committed by another instance. */
    void publishHere(Collection<Change> changes) {
        if (changes.isEmpty() || listeners.isEmpty()) {
            return;
        }
        synchronized (waiting) {
            changes.forEach(change -> (change.kind().equals(READING) ? readings : waiting).add(change));
            bound(waiting);
            bound(readings);
            waiting.notifyAll();
        }
    }

    private static void bound(Set<Change> changes) {
        for (Iterator<Change> oldest = changes.iterator(); changes.size() > BOUND; ) {
            oldest.next();
            oldest.remove();
        }
    }

    @Override
    public Subscription subscribe(Consumer<Change> listener) {
        // wrapped, so that the same listener can be subscribed twice and each end on its own
        Consumer<Change> own = listener::accept;
        listeners.add(own);
        return () -> listeners.remove(own);
    }

    private void tell() {
        try {
            while (true) {
                for (Change change : take()) {
                    listeners.forEach(listener -> tell(listener, change));
                }
            }
        } catch (InterruptedException e) {
            LOG.debug("changes end");
        }
    }

    private List<Change> take() throws InterruptedException {
        synchronized (waiting) {
            while (waiting.isEmpty() && readings.isEmpty() && !closed) {
                waiting.wait();
            }
            if (closed) {
                throw new InterruptedException("closed");
            }
            List<Change> taken = new ArrayList<>(waiting);
            waiting.clear();
            Iterator<Change> oldest = readings.iterator();
            for (int i = 0; i < READINGS_AT_A_TIME && oldest.hasNext(); i++) {
                taken.add(oldest.next());
                oldest.remove();
            }
            return taken;
        }
    }

    private static void tell(Consumer<Changes.Change> listener, Change change) {
        try {
            listener.accept(change);
        } catch (RuntimeException e) {
            LOG.warn("a listener failed on {}", change, e);
        }
    }

    @Override
    public void close() {
        synchronized (waiting) {
            closed = true;
            waiting.notifyAll();
        }
    }
}
