package dev.rimecast.ingest;

import dev.rimecast.ingest.kafka.UnclaimedReplay;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * The register in force. A machine that is new in the register comes into force only after what waited for it is in
 * its site's log, so that its readings are there in their order: the old ones first, then those that come now. What
 * comes while the old ones are taken over still waits, and is taken over right after; that is a matter of moments, well
 * within the 60 s in which analytics puts readings in order.
 */
final class Claims {
    private final UnclaimedReplay replay;
    private final Runnable settleDecisions;
    private volatile Optional<Register> inForce = Optional.empty();

    /** @param settleDecisions returns when everything decided by an earlier register has been handed to the writer */
    Claims(UnclaimedReplay replay, Runnable settleDecisions) {
        this.replay = replay;
        this.settleDecisions = settleDecisions;
    }

    Optional<Register> inForce() {
        return inForce;
    }

    /** Brings a register into force. Called from one thread; safe to call again after it threw. */
    void accept(Register changed) {
        Optional<Register> before = inForce;
        Set<String> arrivals = changed.machines().stream()
                .filter(machine -> !isSpokenFor(before, machine))
                .map(Machine::id)
                .collect(Collectors.toSet());
        if (!arrivals.isEmpty()) {
            replay.takeOver(changed, arrivals);
        }
        inForce = Optional.of(changed);
        if (!arrivals.isEmpty() && before.isPresent()) {
            settleDecisions.run();
            replay.awaitUnclaimedOf(changed, arrivals);
            replay.takeOver(changed, arrivals);
        }
    }

    private static boolean isSpokenFor(Optional<Register> register, Machine machine) {
        return register.flatMap(r -> r.machine(machine.id()))
                .filter(known -> known.gateway().equals(machine.gateway()))
                .isPresent();
    }
}
