package dev.rimecast.analytics.fleet;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.simulator.fleet.Model;
import dev.rimecast.telemetry.cycle.Acceptance;
import dev.rimecast.telemetry.cycle.Acceptance.Probes;
import dev.rimecast.telemetry.cycle.Acceptance.Reason;
import dev.rimecast.telemetry.cycle.Acceptance.Verdict;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Machines in their first hours. What a 50 kg machine does at 25 °C of air and 15 °C of water is taken from the lumped model of
 * the trade notes (2.5 min, 20.2 min, 208 s, 14.4 K), the spread between machines of a group is common practice.
 */
class FirstCyclesTest {
    private static final Duration A_DAY = Duration.ofDays(1);

    private static final Policy KNOWN_KIND = Policy.parse("""
            version: known-kind
            groups:
              cube-50:
                features:
                  pull_down: {typical: 150, typical_spread: 0.15}
                  freeze: {typical: 1212, typical_spread: 0.08}
                  harvest: {typical: 208, typical_spread: 0.15}
                  split: {typical: 14.4, typical_spread: 2}
            """);

    private static FirstCycles machine(long seed, Policy policy) {
        return FirstCycles.of(Model.CUBE_50, seed, policy, Optional.empty(), 0);
    }

    @ParameterizedTest
    @EnumSource(Model.class)
    void soundMachine_ofAKindThatIsKnownRoughly_isNotRefusedNorAccepted(Model model) {
        Acceptance last = FirstCycles.of(model, 1, Policy.standard(), Optional.empty(), 0)
                .liveThrough(A_DAY)
                .last();

        assertThat(last.isLast()).isTrue();
        assertThat(last.verdict()).as(last.summary()).isEqualTo(Verdict.NOT_YET_KNOWN);
        assertThat(last.probes()).isEqualTo(Probes.TOLD_APART);
    }

    @Test
    void soundMachines_ofAKindThatIsKnown_areAccepted() {
        assertThat(List.of(0L, 1L, 2L, 3L)).allSatisfy(seed -> {
            Acceptance last = machine(seed, KNOWN_KIND).liveThrough(A_DAY).last();
            assertThat(last.verdict()).as("seed %s: %s", seed, last.summary()).isEqualTo(Verdict.ACCEPTED);
        });
    }

    static Stream<Arguments> faultsOfPuttingUp() {
        return Stream.of(
                Arguments.of(Cause.AIRFLOW_RESTRICTED, 0.5),
                Arguments.of(Cause.LOW_CHARGE, 0.4),
                Arguments.of(Cause.CURTAIN_MISPLACED, 0.1),
                Arguments.of(Cause.PROBES_SWAPPED, 1.0));
    }

    @ParameterizedTest
    @MethodSource("faultsOfPuttingUp")
    void machine_withAFaultFromItsFirstMinute_isNotAccepted(Cause fault, double severity) {
        Acceptance last = FirstCycles.of(Model.CUBE_50, 1, KNOWN_KIND, Optional.of(fault), severity)
                .liveThrough(A_DAY)
                .last();

        assertThat(last.verdict()).as(last.summary()).isEqualTo(Verdict.NOT_ACCEPTED);
    }

    /** Half of a charge, half of the air: what is beside all kinds is refused even where the kind is known only roughly. */
    @Test
    void airflowBlocked_ofAKindThatIsKnownRoughly_isNotAccepted() {
        Acceptance last = FirstCycles.of(
                        Model.CUBE_80, 1, Policy.standard(), Optional.of(Cause.AIRFLOW_RESTRICTED), 0.6)
                .liveThrough(A_DAY)
                .last();

        assertThat(last.verdict()).as(last.summary()).isEqualTo(Verdict.NOT_ACCEPTED);
        assertThat(last.summary()).contains("condensing temperature over ambient");
    }

    @Test
    void movedMachine_cyclesAfterTheMove_areLookedAtAnew() {
        FirstCycles scene = machine(2, KNOWN_KIND).live(Duration.ofHours(2));
        Instant moved = scene.now();
        scene.happened(new Happened(moved, Optional.of(FirstCycles.MACHINE), EventKind.MOVED, "", "", ""))
                .live(Duration.ofHours(2))
                .liveThrough(A_DAY);

        assertThat(scene.all()).extracting(Acceptance::reason).contains(Reason.FIRST_SEEN, Reason.MOVED);
        assertThat(scene.last().began()).isEqualTo(moved);
        assertThat(scene.cycles)
                .filteredOn(cycle -> cycle.acceptance()
                        .filter(a -> a.reason() == Reason.MOVED)
                        .isPresent())
                .isNotEmpty()
                .allSatisfy(cycle -> assertThat(cycle.freezeStart()).isAfterOrEqualTo(moved));
    }

    /** 50 kg a day at the rating: at about 24 °C and 18 °C some 54 kg, so 0.94 kg of a cycle of 25 min. */
    @Test
    void weighedHarvests_standAgainstTheRating() {
        FirstCycles scene = machine(0, KNOWN_KIND).live(Duration.ofHours(2));
        scene.happened(weighed(scene, "0.98")).liveThrough(A_DAY);
        FirstCycles light = machine(0, KNOWN_KIND).live(Duration.ofHours(2));
        light.happened(weighed(light, "0.55")).liveThrough(A_DAY);

        assertThat(scene.last().verdict()).as(scene.last().summary()).isEqualTo(Verdict.ACCEPTED);
        assertThat(scene.last().rating()).isPresent();
        assertThat(light.last().verdict()).isEqualTo(Verdict.NOT_ACCEPTED);
        assertThat(light.last().summary()).contains("its rating allows");
    }

    private static Happened weighed(FirstCycles scene, String kilograms) {
        return new Happened(
                scene.now(), Optional.of(FirstCycles.MACHINE), EventKind.HARVEST_WEIGHED, kilograms, "bar", "");
    }

    @Test
    void cyclesAfterTheLast_sayNothingOfIt() {
        FirstCycles scene = machine(3, KNOWN_KIND).liveThrough(A_DAY);
        int said = scene.all().size();

        scene.live(Duration.ofHours(4));

        assertThat(scene.all()).hasSize(said);
        assertThat(scene.cycles).extracting(Cycle::acceptance).contains(Optional.empty());
    }

    @Test
    void restarts_inBetween_changeNothing() {
        FirstCycles whole = machine(1, KNOWN_KIND).live(Duration.ofHours(6));
        FirstCycles cut = machine(1, KNOWN_KIND);
        for (int hour = 0; hour < 6; hour++) {
            cut.live(Duration.ofHours(1)).restart();
        }

        assertThat(cut.all()).isEqualTo(whole.all()).isNotEmpty();
    }
}
