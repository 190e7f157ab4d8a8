package dev.rimecast.simulator.fault;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Cause.Origin;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * One thing that goes wrong with one machine.
 *
 * @param severity how bad it gets, in the measure of {@link FaultEffects}
 * @param grows from nothing to {@code severity}, evenly; zero for a step
 * @param mended when somebody put it right
 */
public record FaultPlan(
        String machine, Cause cause, Instant onset, Duration grows, double severity, Optional<Instant> mended) {

    public FaultPlan {
        if (grows.isNegative()) {
            throw new IllegalArgumentException("grows of " + machine + " must not be negative, was " + grows);
        }
        if (mended.isPresent() && mended.get().isBefore(onset)) {
            throw new IllegalArgumentException("fault of " + machine + " is mended before its onset " + onset);
        }
        FaultEffects.requireSimulated(cause);
    }

    /** A fault that comes at once. */
    public static FaultPlan step(String machine, Cause cause, Instant onset, double severity) {
        return new FaultPlan(machine, cause, onset, Duration.ZERO, severity, Optional.empty());
    }

    /** A fault that grows. */
    public static FaultPlan growing(String machine, Cause cause, Instant onset, Duration grows, double severity) {
        return new FaultPlan(machine, cause, onset, grows, severity, Optional.empty());
    }

    public FaultPlan mendedAt(Instant at) {
        return new FaultPlan(machine, cause, onset, grows, severity, Optional.of(at));
    }

    /** Whether both are one fault of a room or a link, which every machine behind it has. */
    public boolean isSharedWith(FaultPlan other) {
        return isOfAPlace(cause) && cause == other.cause && onset.equals(other.onset);
    }

    /** Whether it is never one machine's alone. */
    public static boolean isOfAPlace(Cause cause) {
        return cause == Cause.ROOM_TOO_HOT || cause == Cause.ROOM_TOO_COLD || cause.origin() == Origin.LINK;
    }

    /** How far it has come, 0 to 1. */
    public double developed(long millis) {
        long since = millis - onset.toEpochMilli();
        if (since < 0 || (mended.isPresent() && millis >= mended.get().toEpochMilli())) {
            return 0;
        }
        return grows.isZero() ? 1 : Math.min(1, since / (double) grows.toMillis());
    }
}
