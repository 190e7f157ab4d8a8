package dev.rimecast.telemetry.log;

/**
 * Headers in the topic {@code dead-letters}. A letter has key and value as they came; analytics and alerts name where it came from
 * by different headers, as they did from the first version on. A record with {@link #REPLAYED} is no letter but the mark that
 * one was taken again; what is taken again carries {@link #REPLAY_OF}, so that a second failure is known for one.
 */
public final class DeadLetterHeaders {
    /** Why; of alerts. Of analytics: {@code decode} or {@code process}, and {@link #ERROR} says why. */
    public static final String REASON = "reason";

    public static final String ERROR = "error";
    /** {@code alerts}; analytics writes none. */
    public static final String STAGE = "stage";

    public static final String SOURCE_TOPIC = "source-topic";
    public static final String SOURCE_PARTITION = "source-partition";
    public static final String SOURCE_OFFSET = "source-offset";
    /** As {@link #SOURCE_TOPIC}, of alerts. */
    public static final String TOPIC = "topic";

    public static final String PARTITION = "partition";
    public static final String OFFSET = "offset";

    /** Of a mark: identifier of the letter. */
    public static final String REPLAYED = "replayed";

    public static final String REPLAYED_BY = "replayed-by";
    public static final String REPLAYED_AT = "replayed-at";
    /** Of a mark: why it was not taken; absent where it was. */
    public static final String NOT_TAKEN = "not-taken";

    /** Identifier of the letter that a record is a repeat of. */
    public static final String REPLAY_OF = "replay-of";

    private DeadLetterHeaders() {}
}
