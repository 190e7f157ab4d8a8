package dev.rimecast.app.server;

import java.util.ArrayDeque;
import java.util.Deque;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** What was started, to be stopped in the opposite order; one that fails does not keep the others from stopping. */
final class Closing implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(Closing.class);

    private record Part(String name, AutoCloseable part) {}

    private final Deque<Part> parts = new ArrayDeque<>();

    synchronized <T extends AutoCloseable> T add(String name, T part) {
        parts.push(new Part(name, part));
        return part;
    }

    @Override
    public synchronized void close() {
        while (!parts.isEmpty()) {
            Part part = parts.pop();
            long start = System.nanoTime();
            try {
                part.part.close();
                LOG.debug("{} stopped in {} ms", part.name, (System.nanoTime() - start) / 1_000_000);
            } catch (Exception e) {
                LOG.warn("{} did not stop cleanly: {}", part.name, e.toString());
            }
        }
    }
}
