package dev.rimecast.alerts.store;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jdbi.v3.core.Handle;

/**
 * When bins were full, from {@code bin_full} where a machine sends it, else from its phase: it rests. A reading that is no
 * later than the newest that counted is left out, so a log can be read again. Used by one thread; see {@link #forget}.
 */
final class BinSpells {
    private static final long NEVER = Long.MIN_VALUE;

    /** What is known of one machine's bin. */
    private static final class Bin {
        private long newest = NEVER;
        private boolean hasSensor;
        private boolean full;
    }

    private final Map<String, Bin> bins = new HashMap<>();

    void add(Handle handle, List<Reading> readings) {
        for (Reading reading : readings) {
            if (reading.channel() == Channel.BIN_FULL) {
                Bin bin = bin(handle, reading.machine());
                bin.hasSensor = true;
                see(handle, bin, reading, reading.value() != 0);
            } else if (reading.channel() == Channel.PHASE) {
                Bin bin = bin(handle, reading.machine());
                if (!bin.hasSensor) {
                    see(handle, bin, reading, reading.phase() == Phase.IDLE);
                }
            }
        }
    }

    private static void see(Handle handle, Bin bin, Reading reading, boolean full) {
        if (reading.timeMillis() <= bin.newest) {
            return;
        }
        bin.newest = reading.timeMillis();
        if (full == bin.full) {
            return;
        }
        bin.full = full;
        Instant at = Instant.ofEpochMilli(reading.timeMillis());
        String sql = full
                ? "insert into bin_full (machine, began) values (:machine, :at) on conflict do nothing"
                : "update bin_full set ended = :at where machine = :machine and ended is null";
        handle.createUpdate(sql)
                .bind("machine", reading.machine())
                .bind("at", at)
                .execute();
    }

    private Bin bin(Handle handle, String machine) {
        return bins.computeIfAbsent(machine, m -> read(handle, m));
    }

    private static Bin read(Handle handle, String machine) {
        Bin bin = new Bin();
        handle.createQuery("select greatest(max(began), max(ended)), bool_or(ended is null) from bin_full"
                        + " where machine = :machine having count(*) > 0")
                .bind("machine", machine)
                .map((row, context) -> {
                    bin.newest = row.getTimestamp(1).getTime();
                    bin.full = row.getBoolean(2);
                    return true;
                })
                .list();
        bin.hasSensor = handle.createQuery(
                        "select exists (select 1 from latest_value where machine = :machine and channel = 'bin_full')")
                .bind("machine", machine)
                .mapTo(Boolean.class)
                .one();
        return bin;
    }

    /** Forgets everything: after a transaction that was rolled back, and when partitions change hands. */
    void forget() {
        bins.clear();
    }
}
