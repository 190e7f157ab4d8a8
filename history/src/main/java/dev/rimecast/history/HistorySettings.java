package dev.rimecast.history;

import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.history.store.Keep;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Map;

/**
 * What {@link HistoryStage} needs.
 *
 * @param kafka client settings, at least {@code bootstrap.servers}
 * @param directory of the history, for this process alone to write
 * @param flush so long after a record was read it is in a file at the latest
 * @param keepFreeBytes with less room on its disk nothing is written: the log keeps it meanwhile
 * @param memoryMegabytes what the database may use while it writes
 */
public record HistorySettings(
        Map<String, String> kafka, Path directory, Duration flush, Keep keep, long keepFreeBytes, int memoryMegabytes) {
    public static final Duration FLUSH = HistoryWriter.FLUSH;
    public static final int MEMORY_MEGABYTES = 128;

    public HistorySettings {
        kafka = Map.copyOf(kafka);
    }

    /** Without secrets. */
    @Override
    public String toString() {
        return "HistorySettings[" + kafka.get("bootstrap.servers") + ", " + directory + ']';
    }
}
