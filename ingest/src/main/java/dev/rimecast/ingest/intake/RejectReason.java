package dev.rimecast.ingest.intake;

import java.util.Locale;

/** Why a record, or a whole message, was not taken. */
public enum RejectReason {
    /** The payload is longer than {@link Intake#MAX_PAYLOAD_BYTES}. */
    TOO_LARGE,
    /** The pack has more than {@link Intake#MAX_RECORDS} records. */
    TOO_MANY_RECORDS,
    /** The payload as a whole is not a SenML pack of the format that the topic names. */
    NOT_A_PACK,
    /** One record of a good pack can't be read: its name, unit or value. */
    BAD_RECORD,
    /** The reading's time is more than 10 minutes ahead of ingest's clock. */
    FUTURE_TIME,
    /** The reading's time is before the year 2000: a gateway whose clock was never set. */
    BAD_TIME,
    /** The register puts the machine behind another gateway. */
    MACHINE_OF_OTHER_GATEWAY,
    /** A number that no such machine can give. Open and shorted sensors stay inside: analytics must see them. */
    OUT_OF_RANGE,
    /** The connection speaks for another gateway than the topic names. */
    TOPIC_OF_OTHER_GATEWAY,
    /** Nothing is read on this topic. */
    UNKNOWN_TOPIC,
    /** A presence message that says neither {@code online} nor {@code offline}. */
    BAD_PRESENCE,
    /** The pack's own count can't be read: the readings are taken, the count is not. */
    BAD_PACK_NUMBER;

    private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');

    /** As counters and the topic {@code rejects} have it. */
    public String code() {
        return code;
    }
}
