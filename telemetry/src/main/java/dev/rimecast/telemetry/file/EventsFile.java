package dev.rimecast.telemetry.file;

import dev.rimecast.telemetry.file.csv.Cells;
import dev.rimecast.telemetry.file.csv.Columns;
import dev.rimecast.telemetry.file.csv.CsvOutput;
import dev.rimecast.telemetry.file.csv.CsvRow;
import dev.rimecast.telemetry.file.csv.CsvTable;
import dev.rimecast.telemetry.file.csv.IsoTime;
import dev.rimecast.telemetry.log.EventKind;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Optional;

/** {@code events.csv}. */
public final class EventsFile {
    static final Columns COLUMNS =
            new Columns(List.of("time", "event"), List.of("machine", "site", "detail", "by", "job"));

    private static final List<String> HEADER = List.of("time", "machine", "site", "event", "detail", "by", "job");

    private EventsFile() {}

    /**
     * Reads events, in the order of the file.
     *
     * @throws IOException if the file can't be read at all
     * @throws dev.rimecast.telemetry.file.csv.InputProblems if anything in it is wrong, everything at once
     */
    public static List<EventRow> read(Path file) throws IOException {
        return CsvTable.read(file, COLUMNS, EventsFile::event);
    }

    /**
     * Reads the events that can be read, in the order of the table.
     *
     * @param name what problems call the table
     * @param csv read to the end and closed
     * @throws IOException if it can't be read at all
     * @throws dev.rimecast.telemetry.file.csv.InputProblems if its header is wrong
     */
    public static CsvTable.Readable<EventRow> readGoodRows(String name, InputStream csv) throws IOException {
        return CsvTable.readGoodRows(name, csv, COLUMNS, EventsFile::event);
    }

    private static EventRow event(CsvRow row) {
        row.required("time");
        row.required("event");
        Optional<EventKind> kind = row.word("event", EventKind.class, EventKind::code);
        String detail = row.text("detail").orElse("");
        kind.flatMap(of -> of.wrongDetail(detail)).ifPresent(wrong -> row.problem("detail", wrong));
        if (row.optionalId("machine").isEmpty()) {
            kind.flatMap(EventKind::wrongWithoutMachine).ifPresent(wrong -> row.problem("machine", wrong));
        }
        return new EventRow(
                row.instant("time").orElse(Instant.EPOCH),
                row.optionalId("machine"),
                row.optionalId("site"),
                kind.orElse(EventKind.CALL),
                detail,
                row.text("by").orElse(""),
                row.text("job").orElse(""));
    }

    /** Writes events in the order given. */
    public static void write(Path file, Collection<EventRow> events) throws IOException {
        try (CsvOutput out = new CsvOutput(file, HEADER)) {
            for (EventRow event : events) {
                out.row(List.of(
                        IsoTime.format(event.at()),
                        Cells.of(event.machine()),
                        Cells.of(event.site()),
                        event.kind().code(),
                        event.detail(),
                        event.by(),
                        event.job()));
            }
        }
    }
}
