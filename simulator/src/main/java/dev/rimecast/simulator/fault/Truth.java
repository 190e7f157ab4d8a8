package dev.rimecast.simulator.fault;

import dev.rimecast.telemetry.finding.Cause;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * What is really so: one row of {@code truth.csv}.
 *
 * @param cause empty for a machine that stayed sound
 * @param stopped when the machine first stopped itself because of it
 * @param deadline when it should have been known at the latest: the stop, or when 80 % had developed, whichever came
 *     first; a step counts as developed after a day
 */
public record Truth(
        String machine,
        Optional<Cause> cause,
        Optional<Instant> onset,
        Optional<Instant> stopped,
        Optional<Instant> deadline) {
    private static final double DEVELOPED = 0.8;
    private static final Duration STEP_IS_DEVELOPED_AFTER = Duration.ofDays(1);

    public static Truth sound(String machine) {
        return new Truth(machine, Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
    }

    public static Truth of(FaultPlan fault, Optional<Instant> stopped) {
        Duration toDeadline = fault.grows().isZero()
                ? STEP_IS_DEVELOPED_AFTER
                : Duration.ofMillis(StrictMath.round(fault.grows().toMillis() * DEVELOPED));
        Instant developed = fault.onset().plus(toDeadline);
        Instant deadline = stopped.filter(developed::isAfter).orElse(developed);
        return new Truth(
                fault.machine(),
                Optional.of(fault.cause()),
                Optional.of(fault.onset()),
                stopped,
                Optional.of(deadline));
    }
}
