package dev.rimecast.telemetry.senml;

import dev.rimecast.telemetry.reading.RejectReason;

/** What becomes of labels that we don't know. */
final class PackLabels {
    private PackLabels() {}

    /** @throws BadPack for a label that has to be understood: it ends in an underscore (RFC 8428 section 4.4) */
    static void requireIgnorable(String label) {
        if (label.endsWith("_")) {
            throw new BadPack(
                    RejectReason.MUST_UNDERSTAND_LABEL,
                    "label " + Quoted.of(label) + " must be understood, and is not known");
        }
    }
}
