package dev.rimecast.telemetry.senml;

/** What a record says: one of the four kinds of value, or none where it has a sum only (RFC 8428 section 4.2). */
sealed interface SenmlValue {
    record Number(double value) implements SenmlValue {}

    record Text(String value) implements SenmlValue {}

    record Flag(boolean value) implements SenmlValue {}

    /** Bytes, which are not kept. */
    record Data() implements SenmlValue {}

    record SumOnly() implements SenmlValue {}
}
