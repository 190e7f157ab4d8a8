package dev.rimecast.dashboard.live;

import dev.rimecast.alerts.view.Changes;
import dev.rimecast.alerts.view.Changes.Change;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.CopyOnWriteArraySet;
import java.util.concurrent.atomic.AtomicLong;
import tools.jackson.databind.json.JsonMapper;

/**
 * Numbers every change and hands it to the screens that want it.
 *
 * <p>An id on the wire is {@code boot-number}. A screen that comes back within the ring hears what it missed; one from
 * before the ring, or from before a restart, is told to load everything again. Nothing here waits for a screen.
 */
public final class LiveHub implements AutoCloseable {
    static final String CLOCK = "clock";
    private static final Set<String> KINDS = Set.of("alert", "cycle", "reading", "visit");
    private static final int RING = 1024;
    private static final int OUTBOX = 256;
    private static final int MOST_VIEWERS = 500;
    /** A browser keeps six lines to a server; a person may have three. */
    static final int MOST_OF_ONE = 20;

    private record Viewer(UUID who, LiveFilter filter, Outbox outbox) {}

    private final String boot;
    private final JsonMapper json;
    private final Deque<LiveEvent> ring = new ArrayDeque<>(RING);
    private final Set<Viewer> viewers = new CopyOnWriteArraySet<>();
    private final AtomicLong alertChanges = new AtomicLong();
    private final Changes.Subscription subscription;
    private long number;
    private boolean closed;

    /** @param boot differs at every start, has no dash */
    public LiveHub(Changes changes, String boot, JsonMapper json) {
        this.boot = boot;
        this.json = json;
        this.subscription = changes.subscribe(this::publish);
    }

    /** Kinds that a screen can ask for. */
    public static Set<String> kinds() {
        return KINDS;
    }

    public int viewers() {
        return viewers.size();
    }

    /** Grows with every change of an alert: what a cached answer is compared with. */
    public long alertChanges() {
        return alertChanges.get();
    }

    private void publish(Change change) {
        if (change.equals(Change.EVERYTHING)) {
            startOver();
            return;
        }
        Map<String, String> data = new LinkedHashMap<>();
        if (!change.machine().isEmpty()) {
            data.put("machine", change.machine());
        }
        if (!change.id().isEmpty()) {
            data.put("alert", change.id());
        }
        if (change.kind().equals("alert")) {
            alertChanges.incrementAndGet();
        }
        String subject = change.id().isEmpty() ? change.machine() : change.id();
        String text = json.writeValueAsString(data);
        synchronized (this) {
            LiveEvent event = new LiveEvent(++number, change.kind(), change.site(), change.machine(), subject, text);
            if (ring.size() == RING) {
                ring.removeFirst();
            }
            ring.addLast(event);
            deliver(event);
        }
    }

    /** Changes were missed: every screen loads everything again, and so does one that comes back from before. */
    private synchronized void startOver() {
        alertChanges.incrementAndGet();
        number++;
        ring.clear();
        viewers.forEach(viewer -> viewer.outbox().requireReset(number));
    }

    /** Tells every screen the product's time; not kept, since only the newest matters. */
    public void announceClock(String data) {
        deliver(new LiveEvent(0, CLOCK, "", "", "", data));
    }

    private void deliver(LiveEvent event) {
        for (Viewer viewer : viewers) {
            if (viewer.filter().wants(event)) {
                viewer.outbox().offer(event);
            }
        }
    }

    /**
     * Opens a screen's outbox, filled with what it missed.
     *
     * @param lastEventId the last id that the screen has seen
     * @param who of whom there may be only so many, so that nobody has all of them
     * @return empty where there are too many already, of them or in all, or this is closing
     */
    synchronized Optional<Outbox> open(UUID who, LiveFilter filter, Optional<String> lastEventId) {
        if (closed || viewers.size() >= MOST_VIEWERS || hasMost(who)) {
            return Optional.empty();
        }
        Outbox outbox = new Outbox(OUTBOX);
        lastEventId.ifPresent(id -> resume(outbox, filter, id));
        viewers.add(new Viewer(who, filter, outbox));
        return Optional.of(outbox);
    }

    /** Whether somebody has as many screens as one may have. */
    boolean hasMost(UUID who) {
        return viewers.stream().filter(viewer -> viewer.who().equals(who)).count() >= MOST_OF_ONE;
    }

    private void resume(Outbox outbox, LiveFilter filter, String id) {
        Optional<Long> seen = numberOf(id);
        long oldest = ring.isEmpty() ? number + 1 : ring.getFirst().number();
        if (seen.isEmpty() || seen.get() > number || seen.get() < oldest - 1) {
            outbox.requireReset(number);
            return;
        }
        ring.stream()
                .filter(event -> event.number() > seen.get() && filter.wants(event))
                .forEach(outbox::offer);
    }

    private Optional<Long> numberOf(String id) {
        if (!id.startsWith(boot + '-')) {
            return Optional.empty();
        }
        try {
            return Optional.of(Long.parseLong(id.substring(boot.length() + 1)));
        } catch (NumberFormatException notOurs) {
            return Optional.empty();
        }
    }

    /** The id that a screen sends back when it comes again. */
    String idOf(long eventNumber) {
        return boot + '-' + eventNumber;
    }

    void leave(Outbox outbox) {
        outbox.close();
        viewers.removeIf(viewer -> viewer.outbox() == outbox);
    }

    /** Ends every stream; none can be opened afterwards. */
    @Override
    public void close() {
        subscription.close();
        synchronized (this) {
            closed = true;
        }
        viewers.forEach(viewer -> viewer.outbox().close());
    }
}
