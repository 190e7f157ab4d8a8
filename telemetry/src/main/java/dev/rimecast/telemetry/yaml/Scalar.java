package dev.rimecast.telemetry.yaml;

import org.snakeyaml.engine.v2.nodes.Tag;
import org.snakeyaml.engine.v2.schema.JsonSchema;

/**
 * One single value before it has a type.
 *
 * @param tag what YAML 1.2 takes it for: text, integer, float, boolean or null
 * @param typed false for a value from outside the document, where text is all there is
 */
record Scalar(String text, Tag tag, boolean typed) {

    /** A value from outside: it has the type that its text would have, unquoted, and may always serve as text. */
    static Scalar untyped(String text) {
        return new Scalar(text, new JsonSchema().getScalarResolver().resolve(text, true), false);
    }

    boolean isText() {
        return !typed || tag.equals(Tag.STR);
    }

    boolean isWhole() {
        return tag.equals(Tag.INT);
    }

    boolean isNumber() {
        return tag.equals(Tag.INT) || tag.equals(Tag.FLOAT);
    }

    boolean isBool() {
        return tag.equals(Tag.BOOL);
    }

    /** What was found, for a message. */
    String described() {
        if (isNumber()) {
            return "the number " + text;
        }
        return isBool() ? "the truth value " + text : "'" + text + "'";
    }
}
