package dev.rimecast.simulator.gateway;

import dev.rimecast.telemetry.log.PackNumber;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/** Keeps packs until their receipt, in memory: enough for a server whose receipt means that they are stored. */
final class MemoryStore implements PackStore {
    private final String boot;
    private final TreeMap<Long, byte[]> kept = new TreeMap<>();
    private long lastSeq;

    MemoryStore(String boot) {
        this.boot = boot;
    }

    @Override
    public String boot() {
        return boot;
    }

    @Override
    public long add(byte[] payload) {
        lastSeq++;
        kept.put(lastSeq, payload);
        return lastSeq;
    }

    @Override
    public void settle() {
        // Survives nothing but a break of the line.
    }

    @Override
    public Optional<Numbered> after(long seq) {
        Map.Entry<Long, byte[]> next = kept.higherEntry(seq);
        return next == null ? Optional.empty() : Optional.of(new Numbered(next.getKey(), next.getValue()));
    }

    @Override
    public void receipt(long seq) {
        kept.remove(seq);
    }

    @Override
    public void covered(PackNumber upTo) {
        if (upTo.boot().equals(boot)) {
            kept.headMap(upTo.seq(), true).clear();
        }
    }

    @Override
    public boolean waitsForCover() {
        return false;
    }

    @Override
    public int size() {
        return kept.size();
    }

    @Override
    public long lastSeq() {
        return lastSeq;
    }

    @Override
    public void close() {
        kept.clear();
    }
}
