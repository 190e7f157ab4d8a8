package dev.rimecast.history.store;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * A file that a manifest named and the newest does not: whoever opened the history before reads on in it.
 *
 * @param name below the history's directory
 * @param bytes its length
 * @param at when it left the manifest
 */
public record Superseded(String name, long bytes, Instant at) {
    /** Longer than any question to the past takes. */
    static final Duration GRACE = Duration.ofHours(24);

    /** So much of what the history may take they may take beside it, whatever their age. */
    private static final int SHARE = 4;

    /**
     * Those that can go: whose time is over, and the oldest where they are too much.
     *
     * @param most bytes that the history may take
     */
    static List<Superseded> due(List<Superseded> all, Instant now, long most) {
        long left = all.stream().mapToLong(Superseded::bytes).sum();
        List<Superseded> due = new ArrayList<>();
        for (Superseded file : oldestFirst(all)) {
            if (left > most / SHARE || !file.at.plus(GRACE).isAfter(now)) {
                due.add(file);
                left -= file.bytes;
            }
        }
        return due;
    }

    static List<Superseded> oldestFirst(List<Superseded> all) {
        return all.stream().sorted(Comparator.comparing(Superseded::at)).toList();
    }
}
