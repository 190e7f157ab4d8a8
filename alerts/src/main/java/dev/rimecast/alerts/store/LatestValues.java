package dev.rimecast.alerts.store;

import dev.rimecast.telemetry.reading.Reading;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.jdbi.v3.core.Handle;

/**
 * Newest value of every channel of every machine, a row each. A value counts if its time is later than that of the value that is
 * known; of two values at one time the first stands. What is in memory is what was committed, or is forgotten: see {@link
 * #forget}. Where another instance has written a machine meanwhile, its row is read again. Used by one thread.
 */
final class LatestValues {
    private final Map<String, LatestRow> known = new HashMap<>();

    void add(Handle handle, List<Reading> readings) {
        learn(handle, readings);
        if (!write(handle, newer(readings))) {
            // Within the transaction the rows are ours from now on, so once more is enough.
            LatestRows.lock(
                    handle, readings.stream().map(Reading::machine).distinct().toList());
            known.clear();
            learn(handle, readings);
            if (!write(handle, newer(readings))) {
                throw new IllegalStateException("newest values were written by another although they are locked");
            }
        }
    }

    private Map<String, LatestRow> newer(List<Reading> readings) {
        Map<String, LatestRow> newer = new TreeMap<>();
        for (Reading reading : readings) {
            LatestRow row = known.computeIfAbsent(reading.machine(), m -> new LatestRow());
            if (row.take(reading)) {
                newer.put(reading.machine(), row);
            }
        }
        return newer;
    }

    /** Forgets everything: after a transaction that was rolled back, and when partitions change hands. */
    void forget() {
        known.clear();
    }

    private void learn(Handle handle, Collection<Reading> readings) {
        Set<String> strangers = readings.stream()
                .map(Reading::machine)
                .filter(machine -> !known.containsKey(machine))
                .collect(Collectors.toSet());
        if (!strangers.isEmpty()) {
            known.putAll(LatestRows.read(handle, strangers));
        }
    }

    private static boolean write(Handle handle, Map<String, LatestRow> newer) {
        return newer.isEmpty() || LatestRows.write(handle, newer);
    }
}
