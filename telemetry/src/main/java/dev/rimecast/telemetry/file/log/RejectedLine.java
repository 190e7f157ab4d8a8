package dev.rimecast.telemetry.file.log;

/**
 * What of a recording was not understood.
 *
 * @param line counted from 1
 * @param column the column, or the SenML record, that it is about; empty if the whole line was lost
 */
public record RejectedLine(String file, long line, String column, String reason) {}
