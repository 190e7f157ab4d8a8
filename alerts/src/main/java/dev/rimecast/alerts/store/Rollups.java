package dev.rimecast.alerts.store;

import dev.rimecast.alerts.store.RollupRows.Key;
import dev.rimecast.telemetry.reading.Reading;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import org.jdbi.v3.core.Handle;

/**
 * Five-minute roll-ups, kept up from readings in any order. Recent buckets stay in memory, so that a machine that
 * reports in order costs no reading of the database; an older one is read back first. What is in memory is only what
 * was committed, or is forgotten: see {@link #forget}. Used by one thread.
 */
final class Rollups {
    private static final int KEPT = 8_192;

    private final Map<Key, Bucket> recent = new LinkedHashMap<>(256, 0.75f, true) {
        private static final long serialVersionUID = 1L;

        @Override
        protected boolean removeEldestEntry(Map.Entry<Key, Bucket> eldest) {
            return size() > KEPT;
        }
    };
    private final Map<String, Long> newestStart = new HashMap<>();

    /** Takes temperatures in; every other channel is left alone. */
    void add(Handle handle, List<Reading> readings) throws SQLException {
        Map<Key, Bucket> touched = touch(handle, readings);
        Map<Key, Bucket> changed = new TreeMap<>(Key.ORDER);
        Key lastKey = new Key("", 0);
        Bucket last = new Bucket("", 0);
        for (Reading reading : readings) {
            int channel = channelOf(reading);
            if (channel < 0) {
                continue;
            }
            long start = Bucket.startOf(reading.timeMillis());
            if (start != lastKey.startMillis() || !reading.machine().equals(lastKey.machine())) {
                lastKey = new Key(reading.machine(), start);
                last = touched.computeIfAbsent(lastKey, key -> new Bucket(key.machine(), key.startMillis()));
            }
            if (last.add(channel, reading.timeMillis(), reading.value())) {
                changed.put(lastKey, last);
            }
        }
        if (!changed.isEmpty()) {
            RollupRows.write(handle, changed.values());
        }
        recent.putAll(touched);
        touched.keySet().forEach(key -> newestStart.merge(key.machine(), key.startMillis(), Math::max));
    }

    /** Forgets everything: after a transaction that was rolled back, and when partitions change hands. */
    void forget() {
        recent.clear();
        newestStart.clear();
    }

    /** Every bucket of the readings that exists, from memory or the database. */
    private Map<Key, Bucket> touch(Handle handle, List<Reading> readings) throws SQLException {
        Set<Key> keys = new HashSet<>();
        Set<String> strangers = new HashSet<>();
        Key last = new Key("", 0);
        for (Reading reading : readings) {
            long start = Bucket.startOf(reading.timeMillis());
            if (channelOf(reading) < 0
                    || (start == last.startMillis() && reading.machine().equals(last.machine()))) {
                continue;
            }
            last = new Key(reading.machine(), start);
            keys.add(last);
            if (!newestStart.containsKey(reading.machine())) {
                strangers.add(reading.machine());
            }
        }
        if (!strangers.isEmpty()) {
            Map<String, Long> known = RollupRows.newest(handle, strangers);
            strangers.forEach(m -> newestStart.put(m, known.getOrDefault(m, Long.MIN_VALUE)));
        }
        Map<Key, Bucket> touched = new HashMap<>();
        Set<Key> toRead = new HashSet<>();
        for (Key key : keys) {
            Bucket inMemory = recent.get(key);
            if (inMemory != null) {
                touched.put(key, inMemory);
            } else if (key.startMillis() <= newestStart.getOrDefault(key.machine(), Long.MAX_VALUE)) {
                toRead.add(key);
            }
        }
        if (!toRead.isEmpty()) {
            RollupRows.read(handle, toRead).forEach(b -> touched.put(new Key(b.machine, b.startMillis), b));
        }
        return touched;
    }

    private static int channelOf(Reading reading) {
        return switch (reading.channel()) {
            case EVAPORATOR_TEMPERATURE -> Bucket.EVAPORATOR;
            case CONDENSER_TEMPERATURE -> Bucket.CONDENSER;
            case AMBIENT_TEMPERATURE -> Bucket.AMBIENT;
            case WATER_TEMPERATURE -> Bucket.WATER;
            case SUPPLY_CURRENT,
                    PHASE,
                    CONTROLLER_STATUS,
                    BIN_FULL,
                    DRAIN_LEVEL,
                    FREEZE_TIME,
                    HARVEST_TIME,
                    PULL_DOWN_TIME,
                    FILL_TIME,
                    DRAIN_LEVEL_TIME,
                    DRAIN_RUN_TIME,
                    WATER_VOLUME,
                    ICE_MASS -> -1;
        };
    }
}
