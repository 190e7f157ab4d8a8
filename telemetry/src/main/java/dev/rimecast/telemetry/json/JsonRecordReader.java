package dev.rimecast.telemetry.json;

import dev.rimecast.telemetry.log.MalformedRecordException;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Function;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * The fields of one JSON object, by name. A field that nobody asks for is ignored, so that a newer writer may add some;
 * whatever is asked for and does not fit is a {@link MalformedRecordException} that names the field.
 */
public final class JsonRecordReader {
    private static final JsonMapper JSON = new JsonMapper();

    private final JsonNode node;
    private final String path;

    private JsonRecordReader(JsonNode node, String path) {
        this.node = node;
        this.path = path;
    }

    /**
     * Reads what {@link JsonRecordWriter#write} wrote.
     *
     * @param record makes the record of its fields; what its constructors refuse is reported as malformed
     */
    public static <T> T read(byte[] bytes, Function<JsonRecordReader, T> record) {
        return readPlain(bytes, in -> {
            int version = in.integer("v");
            if (version != JsonRecordWriter.VERSION) {
                throw in.malformed("v", "unknown version " + version);
            }
            return record.apply(in);
        });
    }

    /** Reads any JSON object, with no version in it: what others write by a contract. */
    public static <T> T readPlain(byte[] bytes, Function<JsonRecordReader, T> record) {
        JsonNode root;
        try {
            root = JSON.readTree(bytes);
        } catch (JacksonException e) {
            throw new MalformedRecordException("no JSON: " + e.getOriginalMessage(), "the record", e);
        }
        if (!root.isObject()) {
            throw new MalformedRecordException("no JSON object", "the record");
        }
        try {
            return record.apply(new JsonRecordReader(root, ""));
        } catch (MalformedRecordException e) {
            throw e;
        } catch (IllegalArgumentException e) {
            throw new MalformedRecordException(String.valueOf(e.getMessage()), "the record", e);
        }
    }

    public String text(String name) {
        return optionalText(name).orElseThrow(() -> malformed(name, "nothing"));
    }

    /** The text, or an empty one where the field is left out. */
    public String textOrEmpty(String name) {
        return optionalText(name).orElse("");
    }

    public Optional<String> optionalText(String name) {
        return field(name, JsonNode::isString, "a text").map(JsonNode::stringValue);
    }

    public double number(String name) {
        return optionalNumber(name).orElseThrow(() -> malformed(name, "nothing"));
    }

    public OptionalDouble optionalNumber(String name) {
        Optional<JsonNode> value = field(name, JsonNode::isNumber, "a number");
        return value.isPresent() ? OptionalDouble.of(finite(name, value.get())) : OptionalDouble.empty();
    }

    public int integer(String name) {
        return optionalInteger(name).orElseThrow(() -> malformed(name, "nothing"));
    }

    public OptionalInt optionalInteger(String name) {
        Optional<JsonNode> value =
                field(name, node -> node.isIntegralNumber() && node.canConvertToInt(), "a 32-bit whole number");
        return value.isPresent() ? OptionalInt.of(value.get().intValue()) : OptionalInt.empty();
    }

    public long longInteger(String name) {
        return field(name, node -> node.isIntegralNumber() && node.canConvertToLong(), "a 64-bit whole number")
                .orElseThrow(() -> malformed(name, "nothing"))
                .longValue();
    }

    public boolean flag(String name) {
        return field(name, JsonNode::isBoolean, "true or false")
                .orElseThrow(() -> malformed(name, "nothing"))
                .booleanValue();
    }

    public Instant time(String name) {
        String text = text(name);
        try {
            return Instant.parse(text);
        } catch (DateTimeException e) {
            throw new MalformedRecordException("no ISO 8601 time '" + text + "'", where(name), e);
        }
    }

    /** The value that the field's code names. */
    public <T> T coded(String name, Function<String, Optional<T>> ofCode) {
        String code = text(name);
        return ofCode.apply(code).orElseThrow(() -> malformed(name, "unknown code '" + code + "'"));
    }

    public List<String> texts(String name) {
        List<String> texts = new ArrayList<>();
        for (JsonNode element : elements(name)) {
            if (!element.isString()) {
                throw malformed(name, "an element that is no text");
            }
            texts.add(element.stringValue());
        }
        return texts;
    }

    public <T> Optional<T> optionalObject(String name, Function<JsonRecordReader, T> record) {
        return field(name, JsonNode::isObject, "an object")
                .map(value -> record.apply(new JsonRecordReader(value, path + name + '.')));
    }

    public <T> List<T> objects(String name, Function<JsonRecordReader, T> record) {
        List<T> records = new ArrayList<>();
        for (JsonNode element : elements(name)) {
            if (!element.isObject()) {
                throw malformed(name, "an element that is no object");
            }
            records.add(record.apply(new JsonRecordReader(element, path + name + '[' + records.size() + "].")));
        }
        return records;
    }

    private List<JsonNode> elements(String name) {
        return field(name, JsonNode::isArray, "an array")
                .map(array -> List.copyOf(array.values()))
                .orElse(List.of());
    }

    private double finite(String name, JsonNode number) {
        // Jackson 3 throws for a number beyond a double; a caller should see the same as for any other misfit.
        try {
            double value = number.doubleValue();
            if (Double.isFinite(value)) {
                return value;
            }
        } catch (JacksonException e) {
            throw new MalformedRecordException("a number beyond a double", where(name), e);
        }
        throw malformed(name, "a number beyond a double");
    }

    private Optional<JsonNode> field(String name, Function<JsonNode, Boolean> fits, String expected) {
        JsonNode value = node.get(name);
        if (value == null || value.isNull()) {
            return Optional.empty();
        }
        if (!fits.apply(value)) {
            throw malformed(name, "not " + expected);
        }
        return Optional.of(value);
    }

    private MalformedRecordException malformed(String name, String what) {
        return new MalformedRecordException(what, where(name));
    }

    private String where(String name) {
        return "field " + path + name;
    }
}
