package dev.rimecast.alerts.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.rimecast.alerts.OwnDatabase;
import dev.rimecast.alerts.view.ProofView;
import dev.rimecast.alerts.view.SiteScope;
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
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;

@TestInstance(Lifecycle.PER_CLASS)
class ProofStoreIT {
    private static final Instant WORKED = Instant.parse("2026-05-20T10:00:00Z");

    @AutoClose
    private OwnDatabase own;

    @BeforeAll
    void start() {
        own = new OwnDatabase();
    }

    private static Proof proof(String machine, Instant workedAt, int revision, Check check, Verdict verdict) {
        return new Proof(
                Proof.idOf(machine, workedAt),
                revision,
                "bar",
                machine,
                workedAt,
                workedAt.plus(Duration.ofHours(revision)),
                Optional.of(Cause.SCALE),
                List.of(Condition.SLOW_PULL_DOWN),
                check,
                verdict,
                OptionalDouble.of(0.5),
                revision,
                OptionalInt.empty(),
                List.of(),
                List.of(),
                false,
                "Revision " + revision + '.',
                "1",
                "standard");
    }

    private boolean write(Proof proof) {
        return own.database().jdbi().inTransaction(handle -> ProofStore.write(handle, proof));
    }

    private List<ProofView> of(String machine) {
        return own.database().jdbi().withHandle(handle -> ProofStore.ofMachine(handle, machine, 10));
    }

    @Test
    void write_laterRevisions_keepTheNewestAndTheLastWordOfEachLook() {
        assertThat(write(proof("a", WORKED, 1, Check.FIRST_CYCLES, Verdict.NOT_YET_KNOWN)))
                .isTrue();
        assertThat(write(proof("a", WORKED, 2, Check.FIRST_CYCLES, Verdict.HELD_SO_FAR)))
                .isTrue();
        assertThat(write(proof("a", WORKED, 3, Check.TEN_CYCLES, Verdict.HELD))).isTrue();

        assertThat(of("a")).singleElement().satisfies(view -> {
            assertThat(view.proof()).isEqualTo(proof("a", WORKED, 3, Check.TEN_CYCLES, Verdict.HELD));
            assertThat(view.looks())
                    .extracting(ProofView.Look::check, ProofView.Look::verdict)
                    .containsExactly(
                            tuple(Check.FIRST_CYCLES, Verdict.HELD_SO_FAR), tuple(Check.TEN_CYCLES, Verdict.HELD));
        });
    }

    /** A topic that is read again from an earlier place brings what is known. */
    @Test
    void write_repeatsAndOlderRevisions_changeNothing() {
        write(proof("b", WORKED, 1, Check.FIRST_CYCLES, Verdict.NOT_YET_KNOWN));
        write(proof("b", WORKED, 2, Check.TEN_CYCLES, Verdict.HELD));
        List<ProofView> before = of("b");

        assertThat(write(proof("b", WORKED, 1, Check.FIRST_CYCLES, Verdict.NOT_YET_KNOWN)))
                .isFalse();
        assertThat(write(proof("b", WORKED, 2, Check.TEN_CYCLES, Verdict.HELD))).isFalse();
        assertThat(of("b")).isEqualTo(before);
    }

    @Test
    void ofMachine_severalJobs_newestWorkFirstAndOthersLeftOut() {
        write(proof("c", WORKED, 1, Check.FIRST_CYCLES, Verdict.NOT_YET_KNOWN));
        write(proof("c", WORKED.plus(Duration.ofDays(3)), 1, Check.FIRST_CYCLES, Verdict.NOT_YET_KNOWN));
        write(proof("d", WORKED, 1, Check.FIRST_CYCLES, Verdict.NOT_YET_KNOWN));

        assertThat(of("c"))
                .extracting(view -> view.proof().workedAt())
                .containsExactly(WORKED.plus(Duration.ofDays(3)), WORKED);
        assertThat(of("nothing")).isEmpty();
    }

    @Test
    void notHeld_ofSomeSitesAndDays_newestVerdictFirst() {
        Instant worked = WORKED.plus(Duration.ofDays(900));
        write(proof("e", worked, 1, Check.TEN_CYCLES, Verdict.NOT_HELD));
        write(proof("f", worked, 2, Check.SEVEN_DAYS, Verdict.NOT_HELD));
        write(proof("g", worked, 1, Check.TEN_CYCLES, Verdict.HELD));

        assertThat(notHeld(SiteScope.EVERY, worked, worked.plus(Duration.ofDays(1))))
                .containsExactly("f", "e");
        assertThat(notHeld(SiteScope.of(List.of("bar")), worked, worked.plus(Duration.ofHours(2))))
                .containsExactly("e");
        assertThat(notHeld(SiteScope.of(List.of("pub")), worked, worked.plus(Duration.ofDays(1))))
                .isEmpty();
    }

    private List<String> notHeld(SiteScope sites, Instant from, Instant to) {
        return own.database().jdbi().withHandle(handle -> ProofStore.notHeld(handle, sites, from, to, 10)).stream()
                .map(Proof::machine)
                .toList();
    }
}
