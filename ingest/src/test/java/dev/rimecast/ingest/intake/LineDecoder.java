package dev.rimecast.ingest.intake;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.reading.RejectReason;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/**
 * A decoder for tests that are not about SenML. A payload is lines of {@code machine channel millis value}; a line of
 * another shape is a bad record, a payload that begins with {@code !} is no pack.
 */
public final class LineDecoder implements PackDecoder {

    @Override
    public Decoded decode(PayloadFormat format, byte[] payload, Instant now) throws NotAPackException {
        String text = new String(payload, StandardCharsets.UTF_8);
        if (text.startsWith("!")) {
            throw new NotAPackException(RejectReason.NOT_SENML, "begins with !");
        }
        List<Reading> readings = new ArrayList<>();
        List<Reject> rejects = new ArrayList<>();
        String[] lines = text.split("\n", -1);
        for (int i = 0; i < lines.length; i++) {
            String[] parts = lines[i].split(" ", -1);
            if (parts.length == 4) {
                Channel channel = Channel.ofCode(parts[1]).orElseThrow();
                long millis = Long.parseLong(parts[2]);
                readings.add(
                        channel.kind() == Channel.Kind.TEXT
                                ? Reading.text(parts[0], channel, millis, parts[3])
                                : Reading.number(parts[0], channel, millis, Double.parseDouble(parts[3])));
            } else {
                rejects.add(Reject.record(RejectReason.NO_VALUE, i, lines[i]));
            }
        }
        return new Decoded(readings, rejects, lines.length, 0);
    }

    /** One line of a payload. */
    public static String line(String machine, Channel channel, Instant at, Object value) {
        return machine + " " + channel.code() + " " + at.toEpochMilli() + " " + value;
    }
}
