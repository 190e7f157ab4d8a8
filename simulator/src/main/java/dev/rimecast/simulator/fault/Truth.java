package dev.rimecast.simulator.fault;

import dev.rimecast.telemetry.finding.Cause;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.Set;

/**
 * What is really so: one row of {@code truth.csv}.
 *
 * @param cause empty for a machine that stayed sound
 * @param stopped when the machine first stopped itself because of it
 * @param deadline when it should have been known at the latest. Of a fault that grows: the stop, or when 80 % had
 *     developed, whichever came first. Of a step: a day after it came, since nobody can know a step before it stops the
 *     machine; three days for one that shows only in what is made and used.
 */
public record Truth(
        String machine,
        Optional<Cause> cause,
        Optional<Instant> onset,
        Optional<Instant> stopped,
        Optional<Instant> deadline) {
    private static final double DEVELOPED = 0.8;
    private static final Duration STEP = Duration.ofDays(1);
    private static final Duration STEP_IN_DAYS = Duration.ofDays(3);
    private static final Set<Cause> SHOWS_IN_DAYS = Set.of(Cause.BIN_SENSOR_FAILED, Cause.START_DELAY_SET);

    public static Truth sound(String machine) {
        return new Truth(machine, Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
    }

    public static Truth of(FaultPlan fault, Optional<Instant> stopped) {
        Instant deadline;
        if (fault.grows().isZero()) {
            deadline = fault.onset().plus(SHOWS_IN_DAYS.contains(fault.cause()) ? STEP_IN_DAYS : STEP);
        } else {
            long toDeveloped = StrictMath.round(fault.grows().toMillis() * DEVELOPED);
            Instant developed = fault.onset().plusMillis(toDeveloped);
            deadline = stopped.filter(developed::isAfter).orElse(developed);
        }
        return new Truth(
                fault.machine(),
                Optional.of(fault.cause()),
                Optional.of(fault.onset()),
                stopped,
                Optional.of(deadline));
    }
}
