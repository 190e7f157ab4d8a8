package dev.rimecast.telemetry.ack;

import dev.rimecast.telemetry.json.JsonRecordReader;
import dev.rimecast.telemetry.json.JsonRecordWriter;
import dev.rimecast.telemetry.log.MalformedRecordException;
import dev.rimecast.telemetry.log.PackNumber;
import java.io.ByteArrayOutputStream;
import tools.jackson.core.JsonGenerator;
import tools.jackson.core.ObjectWriteContext;
import tools.jackson.core.json.JsonFactory;

/** An acknowledgement as the topic {@code acks} has it, and as a gateway is told it. */
public final class GatewayAckJson {
    private static final JsonFactory JSON = new JsonFactory();

    private GatewayAckJson() {}

    /** The record of the topic: {@code {"v":1,"gateway":…,"boot":…,"seq":…,"missing":…}}. */
    public static byte[] encode(GatewayAck ack) {
        return JsonRecordWriter.write(out -> out.text("gateway", ack.gateway())
                .text("boot", ack.upTo().boot())
                .longInteger("seq", ack.upTo().seq())
                .longInteger("missing", ack.missing()));
    }

    /**
     * Reads {@link #encode} back.
     *
     * @throws MalformedRecordException if it is something else
     */
    public static GatewayAck decode(byte[] bytes) {
        return JsonRecordReader.read(
                bytes,
                in -> new GatewayAck(
                        in.text("gateway"),
                        new PackNumber(in.text("boot"), in.longInteger("seq")),
                        in.longInteger("missing")));
    }

    /** The payload of {@code fleet/{gateway}/ack}: {@code {"boot":…,"seq":…}}. */
    public static byte[] payload(PackNumber upTo) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(64);
        try (JsonGenerator out = JSON.createGenerator(ObjectWriteContext.empty(), bytes)) {
            out.writeStartObject();
            out.writeStringProperty("boot", upTo.boot());
            out.writeNumberProperty("seq", upTo.seq());
            out.writeEndObject();
        }
        return bytes.toByteArray();
    }

    /**
     * What a gateway reads of {@link #payload}; members that it does not know are none of its business.
     *
     * @throws MalformedRecordException if it is something else
     */
    public static PackNumber readPayload(byte[] bytes) {
        return JsonRecordReader.readPlain(bytes, in -> new PackNumber(in.text("boot"), in.longInteger("seq")));
    }
}
