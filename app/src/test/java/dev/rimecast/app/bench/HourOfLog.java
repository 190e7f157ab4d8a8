package dev.rimecast.app.bench;

import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.history.store.StoredFile.Partition;
import dev.rimecast.history.table.Taken;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Machine;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/** A history of one hour in which nothing is said. */
final class HourOfLog {
    private final Instant start;
    private final List<Taken> records = new ArrayList<>();

    private HourOfLog(Instant start) {
        this.start = start;
    }

    /** @param sites each with one machine, {@code ice-} and its name */
    static void write(Path root, Instant start, List<String> sites) {
        HourOfLog hour = new HourOfLog(start);
        for (String site : sites) {
            hour.add(site, new SiteRecord.Registered(start, Machine.basic("ice-" + site, site, "gw-" + site)));
        }
        for (int minute = 0; minute < 60; minute++) {
            hour.add("", new SiteRecord.Tick(start.plus(Duration.ofMinutes(minute))));
        }
        HistoryDirectory directory = new HistoryDirectory(root.resolve("history"));
        HistoryWriter.open(directory, new Duck.Limits(128, 1, root.resolve("spill")), new Views(directory)::script)
                .add(
                        hour.records,
                        Map.of(new Partition(Topics.SITES, "log", 0), (long) hour.records.size()),
                        List.of());
    }

    private void add(String key, SiteRecord record) {
        records.add(new Taken(
                Topics.SITES,
                "log",
                0,
                records.size(),
                start.toEpochMilli() + 1000L * records.size(),
                key,
                SiteLogCodec.encode(record)));
    }
}
