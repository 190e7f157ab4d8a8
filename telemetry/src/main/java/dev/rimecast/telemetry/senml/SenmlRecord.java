package dev.rimecast.telemetry.senml;

/**
 * A resolved record (RFC 8428 section 4.6): base fields applied, time absolute.
 *
 * @param unit its own or the base unit; empty where there is neither
 * @param hasOwnUnit whether the record itself names the unit
 * @param timeMillis milliseconds since 1970-01-01T00:00:00Z
 * @param version the pack's base version
 */
record SenmlRecord(String name, String unit, boolean hasOwnUnit, long timeMillis, SenmlValue value, int version) {}
