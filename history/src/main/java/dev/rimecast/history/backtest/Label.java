package dev.rimecast.history.backtest;

import dev.rimecast.telemetry.finding.Cause;
import java.time.Instant;
import java.util.Optional;

/**
 * What somebody knows of a machine for a while.
 *
 * @param machine empty: any of {@code site} (a call that names none)
 * @param from inclusive
 * @param until exclusive: for so long an alert about it is right
 * @param deadline for a problem: when it should have been known at the latest
 * @param cause of a problem, where it is known
 */
record Label(
        Optional<String> machine,
        Optional<String> site,
        Instant from,
        Instant until,
        Instant deadline,
        Verdict verdict,
        Optional<Cause> cause,
        Source source) {

    /** What is known. */
    enum Verdict {
        /** Something was wrong. */
        REAL,
        /** Nothing was. */
        NOT,
        /** Somebody looked and can't say. */
        UNKNOWN
    }

    /** Who says so; the earlier one is believed where they contradict. */
    enum Source {
        MARK,
        TRUTH,
        VISIT,
        CALL
    }

    Label {
        if (!from.isBefore(until)) {
            throw new IllegalArgumentException("a label must begin before it ends, was " + from + " to " + until);
        }
    }

    boolean isProblem() {
        return verdict == Verdict.REAL;
    }

    /** Whether the time from {@code begin} to {@code end} has a moment in common with it. */
    boolean meets(Instant begin, Instant end) {
        return begin.isBefore(until) && !end.isBefore(from);
    }
}
