package dev.rimecast.alerts.store;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.jdbi.v3.core.Handle;

/**
 * Newest value of every channel of every machine. A value counts if its time is later than that of the value that is
 * known; of two values at one time the first stands. Used by one thread; see {@link #forget}.
 */
final class LatestValues {
    private static final String UPSERT = """
            insert into latest_value (machine, channel, at, value, text)
            select m, c, to_timestamp(a / 1000.0), v, t
            from unnest(:machines, :channels, :times, :values, :texts) as r (m, c, a, v, t)
            on conflict (machine, channel) do update
            set at = excluded.at, value = excluded.value, text = excluded.text
            where excluded.at > latest_value.at""";

    private final Map<String, long[]> newestMillis = new HashMap<>();

    void add(Handle handle, List<Reading> readings) {
        learn(handle, readings);
        Map<String, Reading[]> newer = new TreeMap<>();
        for (Reading reading : readings) {
            long[] newest = newestMillis.computeIfAbsent(reading.machine(), m -> never());
            int channel = reading.channel().ordinal();
            if (reading.timeMillis() > newest[channel]) {
                newest[channel] = reading.timeMillis();
                newer.computeIfAbsent(reading.machine(), m -> new Reading[Channel.count()])[channel] = reading;
            }
        }
        write(handle, newer.values());
    }

    /** Forgets everything: after a transaction that was rolled back, and when partitions change hands. */
    void forget() {
        newestMillis.clear();
    }

    private void learn(Handle handle, List<Reading> readings) {
        Set<String> strangers = readings.stream()
                .map(Reading::machine)
                .filter(machine -> !newestMillis.containsKey(machine))
                .collect(Collectors.toSet());
        if (strangers.isEmpty()) {
            return;
        }
        strangers.forEach(machine -> newestMillis.put(machine, never()));
        handle.createQuery("select machine, channel, at from latest_value where machine = any(:machines)")
                .bindArray("machines", String.class, strangers)
                .map((row, context) -> new Known(
                        row.getString(1), row.getString(2), row.getTimestamp(3).getTime()))
                .forEach(known -> Channel.ofCode(known.channel())
                        .ifPresent(channel ->
                                newestMillis.computeIfAbsent(known.machine(), m -> never())[channel.ordinal()] =
                                        known.millis()));
    }

    private record Known(String machine, String channel, long millis) {}

    private static void write(Handle handle, Collection<Reading[]> newer) {
        List<String> machines = new ArrayList<>();
        List<String> channels = new ArrayList<>();
        List<Long> times = new ArrayList<>();
        List<Double> values = new ArrayList<>();
        List<String> texts = new ArrayList<>();
        for (Reading[] ofMachine : newer) {
            for (Reading reading : ofMachine) {
                if (reading != null) {
                    machines.add(reading.machine());
                    channels.add(reading.channel().code());
                    times.add(reading.timeMillis());
                    values.add(reading.value());
                    texts.add(
                            reading.channel() == Channel.PHASE ? reading.phase().code() : reading.text());
                }
            }
        }
        if (machines.isEmpty()) {
            return;
        }
        handle.createUpdate(UPSERT)
                .bindArray("machines", String.class, machines)
                .bindArray("channels", String.class, channels)
                .bindArray("times", Long.class, times)
                .bindArray("values", Double.class, values)
                .bindArray("texts", String.class, texts)
                .execute();
    }

    private static long[] never() {
        long[] times = new long[Channel.count()];
        Arrays.fill(times, Long.MIN_VALUE);
        return times;
    }
}
