package dev.rimecast.alerts.work;

import dev.rimecast.telemetry.finding.Cause;
import java.util.Optional;

/** What the engineer found to be wrong. */
public sealed interface Found {
    /** Found by looking: a cause of the contract. */
    record ACause(Cause cause) implements Found {}

    /** Looked, and nothing was wrong. */
    record Nothing() implements Found {}

    /** @param text what, in the engineer's words */
    record SomethingElse(String text) implements Found {}

    String NOTHING = "nothing-found";
    String SOMETHING_ELSE = "something-else";

    default String code() {
        if (this instanceof ACause found) {
            return found.cause().code();
        }
        return this instanceof Nothing ? NOTHING : SOMETHING_ELSE;
    }

    /** The engineer's words; empty for a code that says it all. */
    default String text() {
        return this instanceof SomethingElse other ? other.text() : "";
    }

    default Optional<Cause> told() {
        return this instanceof ACause found ? Optional.of(found.cause()) : Optional.empty();
    }

    /** Absent for a code that nobody knows. */
    static Optional<Found> of(String code, String text) {
        return switch (code) {
            case NOTHING -> Optional.of(new Nothing());
            case SOMETHING_ELSE -> Optional.of(new SomethingElse(text));
            default -> Cause.ofCode(code).map(ACause::new);
        };
    }
}
