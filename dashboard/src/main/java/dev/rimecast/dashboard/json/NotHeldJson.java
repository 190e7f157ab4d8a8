package dev.rimecast.dashboard.json;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.proof.Proof;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * Work that has not held.
 *
 * @param proof identifier of its proof
 * @param at when that became known, in event time
 * @param cause what the work was about
 */
public record NotHeldJson(
        UUID proof, String site, String machine, Instant workedAt, Instant at, Optional<String> cause, String summary) {

    public static NotHeldJson of(Proof proof) {
        return new NotHeldJson(
                proof.id(),
                proof.site(),
                proof.machine(),
                proof.workedAt(),
                proof.at(),
                proof.cause().map(Cause::code),
                proof.summary());
    }
}
