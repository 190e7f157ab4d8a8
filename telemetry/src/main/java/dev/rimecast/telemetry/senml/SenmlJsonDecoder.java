package dev.rimecast.telemetry.senml;

import dev.rimecast.telemetry.reading.RejectReason;
import java.time.Instant;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import tools.jackson.core.JacksonException;
import tools.jackson.core.JsonParser;
import tools.jackson.core.JsonToken;
import tools.jackson.core.ObjectReadContext;
import tools.jackson.core.StreamReadConstraints;
import tools.jackson.core.exc.StreamConstraintsException;
import tools.jackson.core.json.JsonFactory;
import tools.jackson.core.util.JsonRecyclerPools;

/** SenML JSON (RFC 8428 section 5) to readings, token by token. Safe for use by many threads. */
public final class SenmlJsonDecoder {
    private static final JsonFactory JSON = JsonFactory.builder()
            .streamReadConstraints(StreamReadConstraints.builder()
                    .maxDocumentLength(SenmlPack.MAX_BYTES)
                    .maxNestingDepth(16)
                    .maxStringLength(64 * 1024)
                    .maxNameLength(1024)
                    .maxNumberLength(32)
                    .build())
            .recyclerPool(JsonRecyclerPools.threadLocalPool())
            .build();

    private SenmlJsonDecoder() {}

    /**
     * Takes one message apart; a bad record never spoils the good ones.
     *
     * @param payload as it came, UTF-8
     * @param now when it came: what relative times count from
     */
    public static SenmlPack decode(byte[] payload, Instant now) {
        return PackAssembly.decode(payload, now, SenmlJsonDecoder::read);
    }

    static void read(byte[] payload, Consumer<RawRecord> records) {
        try (JsonParser in = JSON.createParser(ObjectReadContext.empty(), payload)) {
            if (in.nextToken() != JsonToken.START_ARRAY) {
                throw new BadPack(RejectReason.NOT_SENML, "no JSON array");
            }
            RawRecord raw = new RawRecord();
            JsonToken token;
            while ((token = in.nextToken()) != JsonToken.END_ARRAY) {
                raw.clear();
                if (token == JsonToken.START_OBJECT) {
                    readFields(in, raw);
                } else {
                    in.skipChildren();
                    raw.notARecord("no JSON object");
                }
                records.accept(raw);
            }
            if (in.nextToken() != null) {
                throw new BadPack(RejectReason.NOT_SENML, "something after the array");
            }
        } catch (StreamConstraintsException e) {
            throw new BadPack(RejectReason.TOO_LARGE, e.getOriginalMessage());
        } catch (JacksonException e) {
            throw new BadPack(
                    RejectReason.NOT_SENML,
                    e.getOriginalMessage() + " at byte " + e.getLocation().getByteOffset());
        }
    }

    private static void readFields(JsonParser in, RawRecord raw) {
        String name;
        while ((name = in.nextName()) != null) {
            @Nullable Label label = Label.ofJson(name);
            JsonToken token = in.nextToken();
            if (label == null) {
                PackLabels.requireIgnorable(name);
                in.skipChildren();
                continue;
            }
            switch (token) {
                case VALUE_NUMBER_INT, VALUE_NUMBER_FLOAT -> raw.number(label, in.getDoubleValue());
                case VALUE_STRING -> {
                    // Data is a text in JSON.
                    if (label.type() == Label.Type.DATA) {
                        raw.data(label);
                    } else {
                        raw.text(label, in.getString());
                    }
                }
                case VALUE_TRUE -> raw.flag(label, true);
                case VALUE_FALSE -> raw.flag(label, false);
                default -> {
                    in.skipChildren();
                    raw.other(label);
                }
            }
        }
    }
}
