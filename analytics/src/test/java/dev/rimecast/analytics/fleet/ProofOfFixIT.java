package dev.rimecast.analytics.fleet;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.simulator.fleet.ChannelSet;
import dev.rimecast.telemetry.proof.Check;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.proof.Verdict;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.LongStream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/**
 * Simulated repairs: what is said of them must be right in at least 95 of 100, and a leak that was only topped up must be
 * caught by the thirtieth day. What is true is what the simulator did, not what was written down.
 */
class ProofOfFixIT {
    /** Of each kind of work; a third as many leaks. 90 make 210 repairs, and are for a run by hand. */
    private static final int MACHINES = Integer.getInteger("rimecast.proof.machines", 9);

    /** What the machines tell: with TEMPERATURES two of them and nothing else. */
    private static final ChannelSet CHANNELS =
            ChannelSet.valueOf(System.getProperty("rimecast.proof.channels", ChannelSet.FULL.name()));

    private static final double MUST_BE_RIGHT = 0.95;

    private static final List<RepairTrial> TRIALS = new ArrayList<>();

    @BeforeAll
    static void live() {
        for (RepairTrial.Work work : List.of(RepairTrial.Work.MENDED, RepairTrial.Work.NOTHING)) {
            LongStream.range(0, MACHINES)
                    .parallel()
                    // every cause in turn, one time as bad as it gets and one time half of that
                    .mapToObj(seed -> RepairTrial.of(
                            work == RepairTrial.Work.MENDED ? seed : seed + MACHINES, work, CHANNELS, false))
                    .forEachOrdered(TRIALS::add);
        }
        (MACHINES == 9 ? LongStream.of(7, 8, 16) : LongStream.range(7, 7 + MACHINES / 3))
                .parallel()
                .mapToObj(seed -> RepairTrial.of(seed, RepairTrial.Work.TOPPED_UP, CHANNELS, false))
                .forEachOrdered(TRIALS::add);
        TRIALS.forEach(trial -> System.out.println("proof of fix: " + trial));
    }

    private static List<RepairTrial> found(RepairTrial.Work... works) {
        return TRIALS.stream()
                .filter(trial -> List.of(works).contains(trial.work) && trial.wasFound())
                .toList();
    }

    @Test
    void repairs_mendedOrNot_areJudgedRightInTheEnd() {
        List<RepairTrial> judged = found(RepairTrial.Work.MENDED, RepairTrial.Work.NOTHING);
        long right = judged.stream()
                .filter(trial -> trial.last() == (trial.shouldHold() ? Verdict.HELD : Verdict.NOT_HELD))
                .count();

        assertThat(judged).as("faults that were found before the work").hasSizeGreaterThan(MACHINES);
        assertThat(right / (double) judged.size()).isGreaterThanOrEqualTo(MUST_BE_RIGHT);
    }

    /** The engineer who is still there must not be told that it is good where it is not, nor the other way round. */
    @Test
    void repairs_afterTenCycles_areNeverJudgedWrong() {
        assertThat(found(RepairTrial.Work.MENDED))
                .allSatisfy(trial -> assertThat(ten(trial)).isNotEqualTo(Optional.of(Verdict.NOT_HELD)));
        assertThat(found(RepairTrial.Work.NOTHING))
                .allSatisfy(trial ->
                        assertThat(ten(trial)).isNotIn(Optional.of(Verdict.HELD), Optional.of(Verdict.HELD_SO_FAR)));
    }

    private static Optional<Verdict> ten(RepairTrial trial) {
        return trial.proofs.stream()
                .filter(proof ->
                        proof.check() == Check.TEN_CYCLES && proof.raisedSince().isEmpty())
                .map(Proof::verdict)
                .findFirst();
    }

    @Test
    void leak_toppedUp_heldSoFarUntilItIsCaughtByTheThirtiethDay() {
        assertThat(found(RepairTrial.Work.TOPPED_UP))
                .hasSizeGreaterThan(MACHINES / 4)
                .allSatisfy(trial -> {
                    assertThat(trial.proofs).noneMatch(proof -> proof.verdict() == Verdict.HELD);
                    assertThat(trial.last()).isEqualTo(Verdict.NOT_HELD);
                });
    }

    /** Every revision counts on, and only the last one says that it is the last. */
    @Test
    void revisions_countOn_andEndOnce() {
        assertThat(TRIALS).filteredOn(RepairTrial::wasFound).allSatisfy(trial -> {
            assertThat(trial.proofs)
                    .extracting(Proof::id)
                    .containsOnly(trial.proofs.get(0).id());
            assertThat(trial.proofs)
                    .extracting(Proof::revision)
                    .containsExactlyElementsOf(LongStream.rangeClosed(1, trial.proofs.size())
                            .mapToObj(Math::toIntExact)
                            .toList());
            assertThat(trial.proofs.subList(0, trial.proofs.size() - 1)).noneMatch(Proof::isLast);
            assertThat(trial.proofs.get(trial.proofs.size() - 1).isLast()).isTrue();
        });
    }

    @Test
    void restart_everyDay_saysTheSameInAStateThatFits() {
        RepairTrial steady = RepairTrial.of(7, RepairTrial.Work.TOPPED_UP);
        RepairTrial restarted = RepairTrial.of(7, RepairTrial.Work.TOPPED_UP, ChannelSet.FULL, true);

        assertThat(restarted.proofs).isEqualTo(steady.proofs).hasSizeGreaterThan(10);
        assertThat(restarted.largestState).isBetween(1_000, 4_096);
    }
}
