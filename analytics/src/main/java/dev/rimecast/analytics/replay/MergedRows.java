package dev.rimecast.analytics.replay;

import dev.rimecast.telemetry.file.log.CaptureReader;
import dev.rimecast.telemetry.file.log.Captured;
import dev.rimecast.telemetry.file.log.LogRow;
import dev.rimecast.telemetry.file.log.RejectedLine;
import dev.rimecast.telemetry.file.log.TelemetryLogReader;
import dev.rimecast.telemetry.reading.Reading;
import java.io.Closeable;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** The rows of several files, the oldest next row first; of equal times, the file named first. */
final class MergedRows implements RowSource {
    private final List<OneFile> files = new ArrayList<>();
    private final List<RejectedLine> rejects = new ArrayList<>();

    private MergedRows() {}

    static MergedRows open(List<Path> logs) throws IOException {
        MergedRows merged = new MergedRows();
        try {
            for (Path log : logs) {
                OneFile file = isCapture(log) ? merged.capture(log) : merged.telemetry(log);
                merged.files.add(file);
                file.advance();
            }
            return merged;
        } catch (IOException | RuntimeException e) {
            merged.close();
            throw e;
        }
    }

    private static boolean isCapture(Path log) {
        String name = log.getFileName().toString().toLowerCase(Locale.ROOT).replaceAll("\\.(gz|zst)$", "");
        return name.endsWith(".json") || name.endsWith(".jsonl") || name.endsWith(".ndjson");
    }

    private OneFile telemetry(Path log) throws IOException {
        TelemetryLogReader reader = TelemetryLogReader.open(log, rejects::add);
        String name = log.toString();
        return new OneFile(
                () -> {
                    Optional<LogRow> row = reader.next();
                    return row.map(r ->
                            new Row(name, r.line(), r.timeMillis(), Optional.empty(), r.readings(), Optional.empty()));
                },
                reader);
    }

    private OneFile capture(Path log) throws IOException {
        CaptureReader reader = CaptureReader.open(log, rejects::add);
        String name = log.toString();
        return new OneFile(
                () -> {
                    Optional<Captured> message = reader.next();
                    return message.map(m -> row(name, m));
                },
                reader);
    }

    private static Row row(String name, Captured message) {
        Optional<String> gateway = Optional.of(message.gateway());
        if (message instanceof Captured.Pack pack) {
            long newest = pack.readings().stream()
                    .mapToLong(Reading::timeMillis)
                    .max()
                    .orElse(pack.at().toEpochMilli());
            return new Row(name, pack.line(), newest, gateway, pack.readings(), Optional.empty());
        }
        Captured.Presence presence = (Captured.Presence) message;
        return new Row(
                name,
                presence.line(),
                presence.at().toEpochMilli(),
                gateway,
                List.of(),
                Optional.of(presence.online()));
    }

    @Override
    public Optional<Row> next() throws IOException {
        Optional<OneFile> first = Optional.empty();
        for (OneFile file : files) {
            if (file.head.isPresent()
                    && (first.isEmpty()
                            || file.head.get().timeMillis()
                                    < first.get().head.orElseThrow().timeMillis())) {
                first = Optional.of(file);
            }
        }
        if (first.isEmpty()) {
            return Optional.empty();
        }
        Optional<Row> row = first.get().head;
        first.get().advance();
        return row;
    }

    @Override
    public List<RejectedLine> rejects() {
        return rejects;
    }

    @Override
    public void close() throws IOException {
        for (OneFile file : files) {
            file.open.close();
        }
    }

    private interface Reader {
        Optional<Row> next() throws IOException;
    }

    private static final class OneFile {
        private final Reader reader;
        private final Closeable open;
        private Optional<Row> head = Optional.empty();

        OneFile(Reader reader, Closeable open) {
            this.reader = reader;
            this.open = open;
        }

        void advance() throws IOException {
            head = reader.next();
        }
    }
}
