package dev.rimecast.telemetry.file.log;

import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.List;

/** One message of a capture that says something about a fleet. */
public sealed interface Captured {
    /** Line in the capture, counted from 1. */
    long line();

    String gateway();

    /** When the capture took it: what stands for the time of arrival. */
    Instant at();

    /**
     * The readings of one message.
     *
     * @param readings the good ones, in the order in which the gateway wrote them
     * @param rejected how many records of the message were rejected
     */
    record Pack(long line, String gateway, Instant at, List<Reading> readings, int rejected) implements Captured {
        public Pack {
            readings = List.copyOf(readings);
        }
    }

    /** A gateway came or went. */
    record Presence(long line, String gateway, Instant at, boolean online) implements Captured {}
}
