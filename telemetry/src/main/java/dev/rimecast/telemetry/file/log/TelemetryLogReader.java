package dev.rimecast.telemetry.file.log;

import dev.rimecast.telemetry.file.csv.CsvScanner;
import dev.rimecast.telemetry.file.csv.DataFiles;
import dev.rimecast.telemetry.file.csv.InputProblem;
import dev.rimecast.telemetry.file.csv.InputProblems;
import dev.rimecast.telemetry.file.csv.IsoTime;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Ids;
import dev.rimecast.telemetry.reading.Reading;
import java.io.Closeable;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.function.Consumer;

/**
 * Reads a telemetry log row by row, so that its length does not matter. One bad cell does not spoil its row, nor one
 * bad row the rest: lines of the file after the header = rows returned + lines rejected whole + empty lines + line
 * ends inside quotes. Not safe for use by several threads.
 */
public final class TelemetryLogReader implements Closeable {
    private final String file;
    private final CsvScanner scanner;
    private final LogHeader header;
    private final Consumer<RejectedLine> rejects;
    private final Map<String, String> machines = new HashMap<>();
    private String lastMachine = "";
    /** Of the row that is being read. */
    private final List<Reading> ofRow = new ArrayList<>();

    private TelemetryLogReader(String file, CsvScanner scanner, LogHeader header, Consumer<RejectedLine> rejects) {
        this.file = file;
        this.scanner = scanner;
        this.header = header;
        this.rejects = rejects;
    }

    /**
     * Opens a log, compressed as its name says, and reads its header.
     *
     * @param rejects is told of each cell and each line that was not understood, in order
     * @throws IOException if the file can't be read
     * @throws InputProblems if it is no telemetry log: unknown columns, no time, no machine
     */
    public static TelemetryLogReader open(Path file, Consumer<RejectedLine> rejects) throws IOException {
        CsvScanner scanner = new CsvScanner(new InputStreamReader(DataFiles.open(file), StandardCharsets.UTF_8));
        try {
            String name = file.toString();
            return new TelemetryLogReader(name, scanner, LogHeader.read(name, scanner), rejects);
        } catch (IOException | RuntimeException e) {
            scanner.close();
            throw e;
        }
    }

    /**
     * The next row; empty at the end.
     *
     * @throws InputProblems if the compressed data ends early or is damaged: what came before was good
     */
    public Optional<LogRow> next() throws IOException {
        try {
            while (scanner.next()) {
                Optional<LogRow> row = row();
                if (row.isPresent()) {
                    return row;
                }
            }
            return Optional.empty();
        } catch (InputProblems e) {
            throw e.getCause() instanceof IOException cut ? damaged(cut) : e;
        }
    }

    private InputProblems damaged(IOException cause) {
        String what = "the compressed data ends early or is damaged after this line (" + cause.getMessage()
                + "): copy the file again";
        InputProblems problems = new InputProblems(new InputProblem(file, scanner.line(), "", what));
        problems.initCause(cause);
        return problems;
    }

    private Optional<LogRow> row() {
        if (scanner.fault().isPresent()) {
            return rejected("", scanner.fault().get());
        }
        int cells = scanner.cells();
        if (cells != header.columns().size()) {
            return rejected(
                    "",
                    "has " + cells + " cells where the header has "
                            + header.columns().size());
        }
        OptionalLong time =
                IsoTime.parseMillis(scanner.chars(), scanner.start(header.time()), scanner.length(header.time()));
        if (time.isEmpty()) {
            return rejected("", "time must be ISO 8601 with offset, found '" + scanner.cell(header.time()) + "'");
        }
        Optional<String> machine = machine();
        if (machine.isEmpty()) {
            return rejected("", "machine must be an identifier, found '" + scanner.cell(header.machine()) + "'");
        }
        return Optional.of(
                new LogRow(scanner.line(), machine.get(), time.getAsLong(), readings(machine.get(), time.getAsLong())));
    }

    private List<Reading> readings(String machine, long timeMillis) {
        ofRow.clear();
        for (int i = 0; i < scanner.cells(); i++) {
            if (scanner.length(i) == 0 || i == header.time() || i == header.machine()) {
                continue;
            }
            Channel channel = header.columns().get(i).orElseThrow();
            Optional<Reading> reading = CellReader.read(scanner, i, machine, channel, timeMillis);
            if (reading.isPresent()) {
                ofRow.add(reading.get());
            } else {
                rejected(channel.code(), "must be " + CellReader.must(channel) + ", found '" + scanner.cell(i) + "'");
            }
        }
        return List.copyOf(ofRow);
    }

    /** The machine's identifier, the same object for every row of a machine. */
    private Optional<String> machine() {
        if (!lastMachine.isEmpty() && scanner.is(header.machine(), lastMachine)) {
            return Optional.of(lastMachine);
        }
        String text = scanner.cell(header.machine());
        String known = machines.get(text);
        if (known == null) {
            if (!Ids.isLegal(text)) {
                return Optional.empty();
            }
            machines.put(text, text);
            known = text;
        }
        lastMachine = known;
        return Optional.of(known);
    }

    private Optional<LogRow> rejected(String column, String reason) {
        rejects.accept(new RejectedLine(file, scanner.line(), column, reason));
        return Optional.empty();
    }

    @Override
    public void close() throws IOException {
        scanner.close();
    }
}
