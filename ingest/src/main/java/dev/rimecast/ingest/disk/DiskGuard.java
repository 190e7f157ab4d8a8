package dev.rimecast.ingest.disk;

import java.io.IOException;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Closes the intake while a disk has too little room, so that Kafka and the database, which can't bear a full one, keep a
 * reserve for what is under way; gateways keep their packs meanwhile. It opens again by itself, at a fifth more than it closes
 * at, so that it does not do both all the time. A disk that does not answer closes nothing: nobody can know.
 */
public final class DiskGuard {
    private static final Logger log = LoggerFactory.getLogger(DiskGuard.class);

    private final FreeSpace space;
    private final long keepFreeBytes;
    private final List<Runnable> listeners = new CopyOnWriteArrayList<>();
    private volatile boolean isClosed;
    private volatile long freeBytes = Long.MAX_VALUE;

    /** @param keepFreeBytes closed below; 0 never closes */
    public DiskGuard(FreeSpace space, long keepFreeBytes) {
        this.space = space;
        this.keepFreeBytes = keepFreeBytes;
    }

    /** Closes nothing. */
    public static DiskGuard none() {
        return new DiskGuard(() -> Long.MAX_VALUE, 0);
    }

    /** Looks at the disk; by one thread, about every second. */
    public void look() {
        if (keepFreeBytes == 0) {
            return;
        }
        try {
            freeBytes = space.bytes();
        } catch (IOException e) {
            log.debug("the room on the disk of {} is not known: {}", space, e.toString());
            return;
        }
        boolean next = freeBytes < (isClosed ? keepFreeBytes + keepFreeBytes / 5 : keepFreeBytes);
        if (next == isClosed) {
            return;
        }
        isClosed = next;
        if (next) {
            log.warn("nothing is taken in until the disk has room: {}", inWords());
        } else {
            log.info("the disk of {} has room again, {} MB: packs are taken in", space, freeBytes / 1_000_000);
        }
        listeners.forEach(Runnable::run);
    }

    public boolean isClosed() {
        return isClosed;
    }

    /** Why nothing is taken in; empty where that is not so. */
    public Optional<String> problem() {
        return isClosed ? Optional.of(inWords()) : Optional.empty();
    }

    private String inWords() {
        return "the disk of " + space + " has only " + freeBytes / 1_000_000 + " MB left, " + keepFreeBytes / 1_000_000
                + " MB are kept free; gateways keep their packs. Make room, or give the disk more";
    }

    /** Called each time that it closes or opens. */
    void onChange(Runnable listener) {
        listeners.add(listener);
    }
}
