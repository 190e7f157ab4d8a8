package dev.rimecast.simulator.gateway;

import java.util.ArrayList;
import java.util.List;
import java.util.TreeMap;

/**
 * The packs that nobody has acknowledged yet, by their number. What is here is sent again after a break; it leaves only
 * with its receipt.
 */
final class PackStore {
    /** One message, with its number. */
    @SuppressWarnings("ArrayRecordComponent") // a payload is handed on, never compared
    record Numbered(long seq, byte[] payload) {}

    private final TreeMap<Long, Numbered> waiting = new TreeMap<>();
    private long lastSeq;
    private long lastSent;

    long add(byte[] payload) {
        lastSeq++;
        waiting.put(lastSeq, new Numbered(lastSeq, payload));
        return lastSeq;
    }

    /** The next packs to send, so that at most {@code window} are on their way. */
    List<Numbered> toSend(int window) {
        List<Numbered> next = new ArrayList<>();
        int underWay = waiting.headMap(lastSent, true).size();
        for (Numbered pack : waiting.tailMap(lastSent, false).values()) {
            if (underWay + next.size() >= window) {
                break;
            }
            next.add(pack);
        }
        if (!next.isEmpty()) {
            lastSent = next.get(next.size() - 1).seq();
        }
        return next;
    }

    /** The receipt of a pack; of one that has none to wait for, nothing happens. */
    void acknowledged(long seq) {
        waiting.remove(seq);
    }

    /** After a break, everything that waits is to be sent again, in order. */
    void sendAgain() {
        lastSent = 0;
    }

    /** Whether every pack up to {@code seq} has its receipt. */
    boolean isCovered(long seq) {
        return waiting.headMap(seq, true).isEmpty();
    }

    int size() {
        return waiting.size();
    }

    long lastSeq() {
        return lastSeq;
    }
}
