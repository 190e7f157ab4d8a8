package dev.rimecast.telemetry.gateway;

import dev.rimecast.telemetry.json.JsonRecordReader;
import dev.rimecast.telemetry.json.JsonRecordWriter;
import dev.rimecast.telemetry.log.MalformedRecordException;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.List;

/**
 * The keys of one gateway as the topic {@code credentials} has them under its id:
 * {@code {"v":1,"keys":[{"kind":"secret","sha256":…,"until":…}]}}, {@code until} only where a key ends.
 */
public final class GatewayKeysJson {
    private GatewayKeysJson() {}

    public static byte[] encode(List<GatewayKey> keys) {
        return JsonRecordWriter.write(out -> out.objects(
                "keys",
                keys,
                (one, key) -> one.text("kind", key.kind().code())
                        .text("sha256", key.sha256())
                        .text("until", key.until().map(Instant::toString))));
    }

    /**
     * Reads {@link #encode} back.
     *
     * @throws MalformedRecordException if it is something else
     */
    public static List<GatewayKey> decode(byte[] bytes) {
        return JsonRecordReader.read(bytes, in -> in.objects("keys", GatewayKeysJson::key));
    }

    private static GatewayKey key(JsonRecordReader in) {
        try {
            return new GatewayKey(
                    in.coded("kind", GatewayKey.Kind::ofCode),
                    in.text("sha256"),
                    in.optionalText("until").map(Instant::parse));
        } catch (IllegalArgumentException | DateTimeParseException e) {
            throw new MalformedRecordException("a key of a gateway is none: " + e.getMessage(), "keys", e);
        }
    }
}
