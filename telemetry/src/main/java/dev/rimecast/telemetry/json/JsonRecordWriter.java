package dev.rimecast.telemetry.json;

import java.io.ByteArrayOutputStream;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.time.format.DateTimeFormatterBuilder;
import java.util.Collection;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Consumer;
import tools.jackson.core.JsonGenerator;
import tools.jackson.core.ObjectWriteContext;
import tools.jackson.core.json.JsonFactory;

/**
 * Writes one JSON object, field by field, in the order of the calls. Absent values and empty texts leave no field.
 *
 * <p>Times are ISO 8601 in UTC with milliseconds: anything finer is cut off.
 */
public final class JsonRecordWriter {
    /** The version in field {@code v}; it counts up only if an old reader could no longer understand a record. */
    static final int VERSION = 1;

    private static final JsonFactory JSON = new JsonFactory();
    private static final DateTimeFormatter MILLIS =
            new DateTimeFormatterBuilder().appendInstant(3).toFormatter().withZone(ZoneOffset.UTC);

    private final JsonGenerator out;

    private JsonRecordWriter(JsonGenerator out) {
        this.out = out;
    }

    /** The object's UTF-8 bytes, beginning with {@code "v":1}. */
    public static byte[] write(Consumer<JsonRecordWriter> fields) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(512);
        try (JsonGenerator out = JSON.createGenerator(ObjectWriteContext.empty(), bytes)) {
            out.writeStartObject();
            out.writeNumberProperty("v", VERSION);
            fields.accept(new JsonRecordWriter(out));
            out.writeEndObject();
        }
        return bytes.toByteArray();
    }

    public JsonRecordWriter text(String name, String value) {
        if (!value.isEmpty()) {
            out.writeStringProperty(name, value);
        }
        return this;
    }

    public JsonRecordWriter text(String name, Optional<String> value) {
        value.ifPresent(text -> out.writeStringProperty(name, text));
        return this;
    }

    /**
     * A number as the shortest text that reads back to the same double.
     *
     * @throws IllegalArgumentException if it is not finite: JSON has no word for that
     */
    public JsonRecordWriter number(String name, double value) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(name + " must be finite, was " + value);
        }
        out.writeNumberProperty(name, value);
        return this;
    }

    public JsonRecordWriter number(String name, OptionalDouble value) {
        value.ifPresent(number -> number(name, number));
        return this;
    }

    public JsonRecordWriter integer(String name, int value) {
        out.writeNumberProperty(name, value);
        return this;
    }

    /** A whole number of up to 64 bits, all of its digits. */
    public JsonRecordWriter longInteger(String name, long value) {
        out.writeNumberProperty(name, value);
        return this;
    }

    public JsonRecordWriter integer(String name, OptionalInt value) {
        value.ifPresent(number -> integer(name, number));
        return this;
    }

    public JsonRecordWriter flag(String name, boolean value) {
        out.writeBooleanProperty(name, value);
        return this;
    }

    public JsonRecordWriter time(String name, Instant value) {
        out.writeStringProperty(name, MILLIS.format(value));
        return this;
    }

    public JsonRecordWriter texts(String name, Collection<String> values) {
        if (!values.isEmpty()) {
            out.writeArrayPropertyStart(name);
            values.forEach(out::writeString);
            out.writeEndArray();
        }
        return this;
    }

    public JsonRecordWriter object(String name, Consumer<JsonRecordWriter> fields) {
        out.writeObjectPropertyStart(name);
        fields.accept(this);
        out.writeEndObject();
        return this;
    }

    /** An array of objects, one per element of {@code values}; none, no field. */
    public <T> JsonRecordWriter objects(String name, Collection<T> values, FieldsOf<T> fields) {
        if (!values.isEmpty()) {
            out.writeArrayPropertyStart(name);
            for (T value : values) {
                out.writeStartObject();
                fields.write(this, value);
                out.writeEndObject();
            }
            out.writeEndArray();
        }
        return this;
    }

    /** Writes the fields of one element. */
    @FunctionalInterface
    public interface FieldsOf<T> {
        void write(JsonRecordWriter out, T value);
    }
}
