package dev.rimecast.alerts.view;

import dev.rimecast.telemetry.finding.Cause;
import java.time.Instant;
import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

/**
 * What somebody said of a machine's past.
 *
 * @param at when it was said
 * @param state whether it counts
 * @param withdrawn by whom and when it was withdrawn
 */
public record Mark(UUID id, Said said, Instant at, String who, State state, Optional<Withdrawn> withdrawn) {

    /** Whether something was wrong. */
    public enum Verdict {
        REAL,
        NOT,
        /** Somebody looked and can't say. */
        UNKNOWN;

        public String code() {
            return name().toLowerCase(Locale.ROOT);
        }

        public static Optional<Verdict> ofCode(String code) {
            return Arrays.stream(values())
                    .filter(each -> each.code().equals(code))
                    .findFirst();
        }
    }

    /** Whether a mark counts. */
    public enum State {
        STANDING,
        /** The same person has said something else of the same machine and span since. */
        SUPERSEDED,
        WITHDRAWN;

        public String code() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    /**
     * What is said.
     *
     * @param site where the machine stands
     * @param alert that was looked at
     * @param from inclusive
     * @param to exclusive
     * @param cause only of what was real, where it is known
     * @param note may be empty
     */
    public record Said(
            String machine,
            String site,
            Optional<UUID> alert,
            Instant from,
            Instant to,
            Verdict verdict,
            Optional<Cause> cause,
            String note) {
        public Said {
            if (!from.isBefore(to)) {
                throw new IllegalArgumentException("a mark must begin before it ends, was " + from + " to " + to);
            }
            if (cause.isPresent() && verdict != Verdict.REAL) {
                throw new IllegalArgumentException("a cause belongs to a mark that is real, was " + verdict);
            }
        }
    }

    public record Withdrawn(Instant at, String by) {}
}
