package dev.rimecast.alerts.notice.send;

import java.time.Duration;
import java.util.Optional;

/** How an attempt ended. The detail is shown to whoever runs the product; it holds no secret and nothing of an answer. */
public sealed interface Outcome {
    String detail();

    /** The receiver has it. */
    record Sent(String detail) implements Outcome {}

    /**
     * Not, or not known: try again.
     *
     * @param notBefore what the receiver asked for
     */
    record Again(String detail, Optional<Duration> notBefore) implements Outcome {
        static Again soon(String detail) {
            return new Again(detail, Optional.empty());
        }
    }

    /** The receiver will never take this one. */
    record Refused(String detail) implements Outcome {}

    /** The receiver wants nothing any more (HTTP 410). */
    record Gone(String detail) implements Outcome {}
}
