package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.view.ProofView;
import dev.rimecast.alerts.view.ProofView.Look;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.proof.Check;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.proof.Verdict;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/** Two jobs on one machine: one that is still being proved, and one before it that did not hold. Other machines have none. */
final class FakeProofs {
    private static final String MACHINE = "ice-0003";

    private FakeProofs() {}

    static List<ProofView> of(String machine, Instant now) {
        return machine.equals(MACHINE) ? List.of(fresh(now), old(now)) : List.of();
    }

    private static ProofView fresh(Instant now) {
        return view(
                now.minus(Duration.ofMinutes(70)),
                now.minus(Duration.ofMinutes(5)),
                Check.FIRST_CYCLES,
                Verdict.HELD_SO_FAR,
                OptionalDouble.of(0.97),
                OptionalInt.of(1),
                List.of(new Proof.Shown(Feature.PULL_DOWN, OptionalDouble.of(234), 186, 174, 12, 2, 0.97)),
                "0 °C after 3.1 min, expected 2.9 ± 0.4 (3.9 before). Held so far; one more cycle makes it certain."
                        + " 2 cycles since the work.");
    }

    private static ProofView old(Instant now) {
        return view(
                now.minus(Duration.ofDays(20)),
                now.minus(Duration.ofDays(12)),
                Check.SEVEN_DAYS,
                Verdict.NOT_HELD,
                OptionalDouble.of(0),
                OptionalInt.empty(),
                List.of(),
                "It is back: Pull-down to 0 °C takes 226 s, 30 % longer than the 174 s that this machine should take in"
                        + " these conditions.");
    }

    private static ProofView view(
            Instant workedAt,
            Instant at,
            Check check,
            Verdict verdict,
            OptionalDouble probability,
            OptionalInt more,
            List<Proof.Shown> shown,
            String words) {
        Proof proof = new Proof(
                Proof.idOf(MACHINE, workedAt),
                3,
                "site-1",
                MACHINE,
                workedAt,
                at,
                Optional.of(Cause.SCALE),
                List.of(Condition.SLOW_PULL_DOWN),
                check,
                verdict,
                probability,
                2,
                more,
                List.of(),
                shown,
                verdict == Verdict.NOT_HELD,
                words,
                "1",
                "test");
        return new ProofView(proof, List.of(new Look(check, at, verdict, words)));
    }
}
