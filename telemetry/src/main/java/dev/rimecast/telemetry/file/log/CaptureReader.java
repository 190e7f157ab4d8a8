package dev.rimecast.telemetry.file.log;

import dev.rimecast.telemetry.file.csv.DataFiles;
import dev.rimecast.telemetry.machine.Ids;
import dev.rimecast.telemetry.reading.RejectReason;
import dev.rimecast.telemetry.senml.SenmlJsonDecoder;
import dev.rimecast.telemetry.senml.SenmlPack;
import java.io.BufferedReader;
import java.io.Closeable;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Optional;
import java.util.function.Consumer;

/**
 * Reads a capture of MQTT traffic: one JSON object a line. Every line that is not empty gives one {@link Captured}, or
 * one reject, or is an {@code ack}, which is from us to a gateway and says nothing about a machine. Not safe for use by
 * several threads.
 */
public final class CaptureReader implements Closeable {
    private static final String PREFIX = "fleet/";

    /** The largest payload with every character escaped as {@code \}{@code uXXXX}, and room for the rest. */
    private static final int LONGEST_LINE = 6 * SenmlPack.MAX_BYTES + 4096;

    private final String file;
    private final BoundedLines lines;
    private final Consumer<RejectedLine> rejects;

    private CaptureReader(String file, BoundedLines lines, Consumer<RejectedLine> rejects) {
        this.file = file;
        this.lines = lines;
        this.rejects = rejects;
    }

    /**
     * Opens a capture, compressed as its name says.
     *
     * @param rejects is told of each line and each SenML record that was not understood, in order
     */
    public static CaptureReader open(Path file, Consumer<RejectedLine> rejects) throws IOException {
        BufferedReader reader =
                new BufferedReader(new InputStreamReader(DataFiles.open(file), StandardCharsets.UTF_8), 1 << 16);
        return new CaptureReader(file.toString(), new BoundedLines(reader, LONGEST_LINE), rejects);
    }

    /** The next message; empty at the end. */
    public Optional<Captured> next() throws IOException {
        for (Optional<BoundedLines.Line> line = lines.next(); line.isPresent(); line = lines.next()) {
            Optional<Captured> captured = line.get().text().isBlank() ? Optional.empty() : message(line.get());
            if (captured.isPresent()) {
                return captured;
            }
        }
        return Optional.empty();
    }

    private Optional<Captured> message(BoundedLines.Line line) {
        if (line.cut()) {
            return reject(line, RejectReason.TOO_LARGE.code() + ": longer than " + LONGEST_LINE + " characters");
        }
        CaptureLine message;
        try {
            message = CaptureLine.parse(line.text());
        } catch (IllegalArgumentException e) {
            return reject(line, String.valueOf(e.getMessage()));
        }
        String topic = message.topic();
        int end = topic.indexOf('/', PREFIX.length());
        if (!topic.startsWith(PREFIX) || end < 0 || !Ids.isGateway(topic.substring(PREFIX.length(), end))) {
            return badTopic(line, topic);
        }
        String gateway = topic.substring(PREFIX.length(), end);
        return switch (topic.substring(end + 1)) {
            case "senml" -> pack(line, gateway, message);
            case "presence" -> presence(line, gateway, message);
            case "ack" -> Optional.empty();
            case "senml-cbor" ->
                reject(
                        line,
                        RejectReason.NOT_SENML.code() + ": a capture holds text, and CBOR is not: send it as senml");
            default -> badTopic(line, topic);
        };
    }

    private Optional<Captured> pack(BoundedLines.Line line, String gateway, CaptureLine message) {
        SenmlPack pack = SenmlJsonDecoder.decode(message.payload(), message.at());
        if (pack instanceof SenmlPack.Refused refused) {
            return reject(line, refused.reason().code() + ": " + refused.detail());
        }
        SenmlPack.Decoded decoded = (SenmlPack.Decoded) pack;
        for (SenmlPack.Rejected bad : decoded.rejected()) {
            String reason = bad.reason().code() + ": " + bad.detail();
            rejects.accept(new RejectedLine(file, line.number(), "record " + bad.recordIndex(), reason));
        }
        int rejected = decoded.rejected().size();
        return Optional.of(new Captured.Pack(line.number(), gateway, message.at(), decoded.readings(), rejected));
    }

    private Optional<Captured> presence(BoundedLines.Line line, String gateway, CaptureLine message) {
        String text = new String(message.payload(), StandardCharsets.UTF_8);
        return switch (text) {
            case "online" -> Optional.of(new Captured.Presence(line.number(), gateway, message.at(), true));
            case "offline" -> Optional.of(new Captured.Presence(line.number(), gateway, message.at(), false));
            default -> reject(line, "presence must be online or offline");
        };
    }

    private Optional<Captured> badTopic(BoundedLines.Line line, String topic) {
        return reject(line, RejectReason.BAD_TOPIC.code() + ": '" + topic + "' is not one of the contract's");
    }

    private Optional<Captured> reject(BoundedLines.Line line, String reason) {
        rejects.accept(new RejectedLine(file, line.number(), "", reason));
        return Optional.empty();
    }

    @Override
    public void close() throws IOException {
        lines.close();
    }
}
