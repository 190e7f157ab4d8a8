package dev.rimecast.analytics.cycle;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.machine.Phase;
import java.util.Optional;

/**
 * Turning points from the phase that a gateway sends. A gateway that samples sends the same phase again and again, at
 * equal steps; the change then happened between two samples, and half-way is the best guess. One that sends on change
 * means the time that it says.
 */
final class PhaseSignal {
    /** A phase that was not sent again for so long is not relied upon. */
    private static final long TRUSTED_MILLIS = 2 * 3_600_000L;

    /** From this layout of a machine's state on it has how far the samples of the newest change are apart, and times by what went before. */
    private static final int WITH_APART = 19;

    private static final long LONGEST_SAMPLING_MILLIS = 150_000;

    private int phase = -1;
    private Optional<Phase> current = Optional.empty();
    private long since;
    private long seen = Long.MIN_VALUE;
    private long step;
    /** Between the two samples of the newest change; 0 where it was told as it came. */
    private int apartSeconds;

    void on(Phase next, long millis, Boundaries out) {
        long gap = seen == Long.MIN_VALUE ? 0 : millis - seen;
        seen = millis;
        if (next.ordinal() == phase) {
            step = gap;
            return;
        }
        boolean isSampled = step > 0 && gap <= LONGEST_SAMPLING_MILLIS && Math.abs(gap - step) * 5 <= step;
        long at = isSampled ? millis - gap / 2 : millis;
        apartSeconds = isSampled ? (int) ((gap + 500) / 1000) : 0;
        int before = phase;
        phase = next.ordinal();
        current = Optional.of(next);
        since = at;
        announce(before, next, at, out);
    }

    private static void announce(int before, Phase next, long at, Boundaries out) {
        boolean wasFreeze = before == Phase.FREEZE.ordinal();
        boolean wasHarvest = before == Phase.HARVEST.ordinal();
        switch (next) {
            case FREEZE -> {
                if (wasHarvest) {
                    out.harvestEnd(at);
                }
                out.freezeStart(at);
            }
            case HARVEST -> {
                if (wasFreeze) {
                    out.freezeEnd(at);
                } else {
                    out.interrupted(at);
                }
            }
            case FILL, IDLE, WAIT -> {
                if (wasHarvest) {
                    out.harvestEnd(at);
                } else if (wasFreeze) {
                    out.interrupted(at);
                }
            }
            case CLEAN, STOPPED, REDUCED, OFF -> out.interrupted(at);
        }
    }

    /** Whether the phase, and not the temperatures, says what the machine does. */
    boolean isTrusted(long now) {
        return seen != Long.MIN_VALUE && now - seen <= TRUSTED_MILLIS;
    }

    Optional<Phase> phase() {
        return current;
    }

    /** While a change is announced: how far the two samples are apart between which it came, whole seconds; 0 where it was told as it came. */
    int apartSeconds() {
        return apartSeconds;
    }

    /** When the phase began. */
    long sinceMillis() {
        return since;
    }

    void save(StateWriter out) {
        out.whole(phase).time(since).time(seen).whole(step).u8(apartSeconds);
    }

    static PhaseSignal restore(StateReader in) {
        PhaseSignal signal = new PhaseSignal();
        signal.phase = in.wholeInt();
        signal.current = signal.phase < 0 ? Optional.empty() : Optional.of(Phase.ofOrdinal(signal.phase));
        boolean isShort = in.hasLayout(WITH_APART);
        signal.since = isShort ? in.time() : in.whole();
        signal.seen = isShort ? in.time() : in.whole();
        signal.step = in.whole();
        signal.apartSeconds = isShort ? in.u8() : 0;
        return signal;
    }
}
