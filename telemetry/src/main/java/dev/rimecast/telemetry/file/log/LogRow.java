package dev.rimecast.telemetry.file.log;

import dev.rimecast.telemetry.reading.Reading;
import java.util.List;

/**
 * What a telemetry log has in one line.
 *
 * @param line counted from 1
 * @param timeMillis milliseconds since 1970-01-01T00:00:00Z
 * @param readings of this machine at this time, in the order of the channels; empty if every cell is
 */
public record LogRow(long line, String machine, long timeMillis, List<Reading> readings) {}
