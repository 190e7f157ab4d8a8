package dev.rimecast.simulator.fault;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.simulator.physics.Ailment;
import dev.rimecast.simulator.physics.Ailments;
import dev.rimecast.telemetry.finding.Cause;
import java.time.Duration;
import java.time.Instant;
import java.util.EnumSet;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;

class FaultEffectsTest {
    private static final Instant ONSET = Instant.parse("2026-05-04T00:00:00Z");
    private static final Set<Cause> NOT_OF_THE_MACHINE = EnumSet.of(
            Cause.ROOM_TOO_HOT,
            Cause.ROOM_TOO_COLD,
            Cause.GATEWAY_LINK_DOWN,
            Cause.PROBES_SWAPPED,
            Cause.CONTROLLER_FAILED);

    @Test
    void apply_ofEveryCauseOfTheMachine_makesSomethingUnsound() {
        for (Cause cause : EnumSet.complementOf(EnumSet.copyOf(NOT_OF_THE_MACHINE))) {
            Ailments ailments = new Ailments();
            FaultEffects.apply(cause, 0.3, ailments);
            long changed = EnumSet.allOf(Ailment.class).stream()
                    .filter(a -> ailments.get(a) != a.sound())
                    .count();
            assertThat(changed).as(cause.code()).isBetween(1L, 2L);
        }
    }

    @Test
    void apply_ofTwoFaultsOfOneKind_multiplies() {
        Ailments ailments = new Ailments();
        FaultEffects.apply(Cause.AIRFLOW_RESTRICTED, 0.5, ailments);
        FaultEffects.apply(Cause.FAN_WEAK, 0.2, ailments);
        assertThat(ailments.get(Ailment.CONDENSER_CONDUCTANCE)).isEqualTo(0.4);
    }

    @Test
    void plan_ofACauseThatIsNotSimulated_isRefused() {
        assertThatThrownBy(() -> FaultPlan.step("ice-1", Cause.CONTROLLER_FAILED, ONSET, 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("controller-failed");
    }

    @Test
    void developed_ofAGrowingFault_risesEvenlyUntilItIsMended() {
        FaultPlan fault = FaultPlan.growing("ice-1", Cause.SCALE, ONSET, Duration.ofDays(10), 2)
                .mendedAt(ONSET.plus(Duration.ofDays(20)));
        assertThat(fault.developed(at(-1))).isZero();
        assertThat(fault.developed(at(5))).isEqualTo(0.5);
        assertThat(fault.developed(at(15))).isEqualTo(1);
        assertThat(fault.developed(at(20))).isZero();
    }

    @Test
    void deadline_ofAGrowingFault_isFourFifthsUnlessItStoppedBefore() {
        FaultPlan fault = FaultPlan.growing("ice-1", Cause.SCALE, ONSET, Duration.ofDays(10), 2);
        assertThat(Truth.of(fault, Optional.empty()).deadline()).contains(ONSET.plus(Duration.ofDays(8)));
        Instant stop = ONSET.plus(Duration.ofDays(3));
        assertThat(Truth.of(fault, Optional.of(stop)).deadline()).contains(stop);
        Instant late = ONSET.plus(Duration.ofDays(9));
        assertThat(Truth.of(fault, Optional.of(late)).deadline()).contains(ONSET.plus(Duration.ofDays(8)));
    }

    private static long at(int days) {
        return ONSET.plus(Duration.ofDays(days)).toEpochMilli();
    }
}
