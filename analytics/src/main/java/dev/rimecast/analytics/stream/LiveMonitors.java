package dev.rimecast.analytics.stream;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.apache.kafka.common.serialization.StringSerializer;
import org.apache.kafka.streams.KeyValue;
import org.apache.kafka.streams.state.KeyValueIterator;
import org.apache.kafka.streams.state.KeyValueStore;

/**
 * The monitors of one task as objects. They are copies of what the store has: made from it when the task begins, and
 * again for a site whose object has seen a record that the store has not taken.
 */
final class LiveMonitors {
    private static final char SEPARATOR = '/';

    private final KeyValueStore<String, byte[]> store;
    private final Policy firstPolicy;
    /** Sorted, so that a tick goes to the sites in the same order every time. */
    private final TreeMap<String, SiteMonitor> live = new TreeMap<>();

    /** How much the store holds: keys and values, without what keeping them in memory adds. */
    record StateSize(long entries, long bytes) {
        static final StateSize NONE = new StateSize(0, 0);
    }

    /**
     * @param store keys are {@code site/part}; no site's name has a slash
     * @param firstPolicy of a site whose log does not name one yet
     */
    LiveMonitors(KeyValueStore<String, byte[]> store, Policy firstPolicy) {
        this.store = store;
        this.firstPolicy = firstPolicy;
        restoreAll();
    }

    private void restoreAll() {
        Map<String, Map<String, byte[]>> states = new TreeMap<>();
        try (KeyValueIterator<String, byte[]> all = store.all()) {
            all.forEachRemaining(entry -> {
                int end = entry.key.indexOf(SEPARATOR);
                states.computeIfAbsent(entry.key.substring(0, end), site -> new HashMap<>())
                        .put(entry.key.substring(end + 1), entry.value);
            });
        }
        states.forEach((site, parts) -> live.put(site, SiteMonitor.restore(site, parts)));
    }

    /** Looks at every entry: for once in a while. */
    StateSize size() {
        long entries = 0;
        long bytes = 0;
        try (KeyValueIterator<String, byte[]> all = store.all()) {
            while (all.hasNext()) {
                KeyValue<String, byte[]> entry = all.next();
                entries++;
                bytes += entry.key.length() + entry.value.length;
            }
        }
        return new StateSize(entries, bytes);
    }

    /** Sites whose log has begun, in order. */
    List<String> sites() {
        return List.copyOf(live.keySet());
    }

    /** The site's monitor; a new one if its log begins here. */
    SiteMonitor of(String site) {
        return Optional.ofNullable(live.get(site)).orElseGet(() -> begin(site));
    }

    private SiteMonitor begin(String site) {
        SiteMonitor monitor = SiteMonitor.fresh(site, firstPolicy);
        live.put(site, monitor);
        return monitor;
    }

    /** Drops the object, which may have half of a record in it, and makes it anew as the store has it. */
    void goBack(String site) {
        live.remove(site);
        Map<String, byte[]> parts = new HashMap<>();
        String prefix = site + SEPARATOR;
        try (KeyValueIterator<String, byte[]> mine = store.prefixScan(prefix, new StringSerializer())) {
            while (mine.hasNext()) {
                KeyValue<String, byte[]> entry = mine.next();
                parts.put(entry.key.substring(prefix.length()), entry.value);
            }
        }
        if (!parts.isEmpty()) {
            live.put(site, SiteMonitor.restore(site, parts));
        }
    }

    /** Writes what a record has changed; an empty state means that the part is gone. */
    void save(String site, Map<String, Optional<byte[]>> parts) {
        parts.forEach((part, bytes) -> {
            String key = site + SEPARATOR + part;
            bytes.ifPresentOrElse(b -> store.put(key, b), () -> store.delete(key));
        });
    }
}
