package dev.rimecast.telemetry.senml;

/**
 * A resolved record (RFC 8428 section 4.6): base fields applied, time absolute.
 *
 * @param base the base name; empty where there is none
 * @param own the record's own name, behind the base; empty where it has none
 * @param unit its own or the base unit; empty where there is neither
 * @param hasOwnUnit whether the record itself names the unit
 * @param timeMillis milliseconds since 1970-01-01T00:00:00Z
 * @param version the pack's base version
 */
record SenmlRecord(
        String base, String own, String unit, boolean hasOwnUnit, long timeMillis, SenmlValue value, int version) {

    /** The whole name. Made at each call: most records of a pack have the base of the one before, and need none. */
    String name() {
        return own.isEmpty() ? base : base.concat(own);
    }
}
