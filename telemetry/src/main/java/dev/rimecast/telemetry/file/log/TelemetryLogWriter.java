package dev.rimecast.telemetry.file.log;

import dev.rimecast.telemetry.file.csv.CsvOutput;
import dev.rimecast.telemetry.file.csv.Decimals;
import dev.rimecast.telemetry.file.csv.IsoTime;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import java.io.Closeable;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/** Writes a telemetry log, compressed as its name says. Values are written so that they read back the same. */
public final class TelemetryLogWriter implements Closeable {
    private static final int FIRST_CHANNEL = 2;

    private final CsvOutput out;
    private final Map<Channel, Integer> positions = new EnumMap<>(Channel.class);
    private final String[] cells;

    /** @param channels the columns after time and machine, in order */
    public TelemetryLogWriter(Path file, List<Channel> channels) throws IOException {
        List<String> header = new ArrayList<>(List.of(LogHeader.TIME, LogHeader.MACHINE));
        for (Channel channel : channels) {
            if (positions.put(channel, header.size()) != null) {
                throw new IllegalArgumentException("channel " + channel.code() + " is named twice");
            }
            header.add(channel.code());
        }
        this.cells = new String[header.size()];
        this.out = new CsvOutput(file, header);
    }

    /**
     * Writes one row.
     *
     * @param readings of that machine at that time, each channel at most once
     * @throws IllegalArgumentException if the log has no column for a reading
     */
    public void write(String machine, long timeMillis, List<Reading> readings) throws IOException {
        cells[0] = IsoTime.formatMillis(timeMillis);
        cells[1] = machine;
        Arrays.fill(cells, FIRST_CHANNEL, cells.length, "");
        for (Reading reading : readings) {
            Integer position = positions.get(reading.channel());
            if (position == null) {
                throw new IllegalArgumentException(
                        "this log has no column " + reading.channel().code());
            }
            cells[position] = cell(reading);
        }
        out.row(Arrays.asList(cells));
    }

    private static String cell(Reading reading) {
        return switch (reading.channel().kind()) {
            case NUMBER, DURATION, COUNTER -> Decimals.shortest(reading.value());
            case FLAG -> reading.isSet() ? "1" : "0";
            case PHASE -> reading.phase().code();
            case TEXT -> reading.text();
        };
    }

    @Override
    public void close() throws IOException {
        out.close();
    }
}
