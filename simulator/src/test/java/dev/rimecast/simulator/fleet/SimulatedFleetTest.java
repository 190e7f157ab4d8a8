package dev.rimecast.simulator.fleet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;

class SimulatedFleetTest {
    private static final Duration DAY = Duration.ofDays(1);
    private static final Duration MINUTE = Duration.ofMinutes(1);

    @Test
    void readings_takenInOneStepOrInMany_areTheSame() {
        FleetPlan plan = Plans.oneOfEach(7, DAY, MINUTE);
        List<Reading> once = site(plan).advanceTo(plan.to()).readings();
        List<Reading> stepwise = new ArrayList<>();
        SimulatedSite site = site(plan);
        for (Instant t = plan.from(); t.isBefore(plan.to()); t = t.plusSeconds(777)) {
            stepwise.addAll(site.advanceTo(t).readings());
        }
        stepwise.addAll(site.advanceTo(plan.to()).readings());
        assertThat(stepwise).isEqualTo(once).hasSizeGreaterThan(10_000);
    }

    @Test
    void readings_ofAnotherSeed_differ() {
        FleetPlan plan = Plans.oneOfEach(7, Duration.ofHours(1), MINUTE);
        FleetPlan other = Plans.oneOfEach(8, Duration.ofHours(1), MINUTE);
        assertThat(site(plan).advanceTo(plan.to()).readings())
                .isNotEqualTo(site(other).advanceTo(other.to()).readings());
    }

    @Test
    void readings_ofASite_areInOrderOfTimeAndNeverTwiceTheSame() {
        FleetPlan plan = Plans.oneOfEach(3, DAY, Duration.ofSeconds(10));
        List<Reading> readings = site(plan).advanceTo(plan.to()).readings();
        assertThat(readings).isSortedAccordingTo((a, b) -> Long.compare(a.timeMillis(), b.timeMillis()));
        Set<String> identities = new HashSet<>();
        for (Reading reading : readings) {
            String identity = reading.machine() + '/' + reading.channel() + '/' + reading.timeMillis();
            assertThat(identities.add(identity)).as(identity).isTrue();
        }
    }

    @Test
    void machine_ofEveryModel_makesItsCyclesAndRestsWhenItsBinIsFull() {
        FleetPlan plan = Plans.oneOfEach(5, Duration.ofDays(2), MINUTE);
        List<Reading> readings = site(plan).advanceTo(plan.to()).readings();
        for (Model model : Model.values()) {
            List<Reading> own = readings.stream()
                    .filter(r -> r.machine().equals(model.group()))
                    .toList();
            // Common practice: not more than 90 cycles a day; these are used to six tenths.
            assertThat(own.stream().filter(r -> r.channel() == Channel.HARVEST_TIME))
                    .as(model.group())
                    .hasSizeBetween(40, 180);
            assertThat(own).anyMatch(r -> r.channel() == Channel.PHASE && r.phase() == Phase.IDLE);
            assertThat(own).noneMatch(r -> r.channel() == Channel.PHASE && r.phase() == Phase.STOPPED);
        }
    }

    @Test
    void fault_thatStopsItsMachine_isInTheTruthWithItsStop() {
        FaultPlan fan = FaultPlan.step("cube-50", Cause.FAN_FAILED, Plans.START.plus(Duration.ofHours(3)), 1);
        SimulatedFleet fleet = new SimulatedFleet(Plans.oneOfEach(5, DAY, MINUTE, fan));
        SimulatedSite site = fleet.sites().get(0);
        SiteBatch batch = site.advanceTo(fleet.plan().to());
        assertThat(fleet.truth()).hasSize(Model.values().length).anySatisfy(truth -> {
            assertThat(truth.machine()).isEqualTo("cube-50");
            assertThat(truth.stopped().orElseThrow()).isAfter(fan.onset());
            // Nobody can know a step before it stops the machine: it has a day.
            assertThat(truth.deadline()).contains(fan.onset().plus(Duration.ofDays(1)));
        });
        assertThat(batch.readings())
                .anyMatch(r ->
                        r.machine().equals("cube-50") && r.channel() == Channel.PHASE && r.phase() == Phase.STOPPED);
    }

    @Test
    void visit_whileSomethingIsWrong_endsItAndIsWrittenDown() {
        Instant onset = Plans.START.plus(Duration.ofHours(3));
        FaultPlan fan = FaultPlan.step("cube-50", Cause.FAN_FAILED, onset, 1).mendedAt(onset.plus(DAY));
        SimulatedFleet fleet = new SimulatedFleet(Plans.oneOfEach(5, DAY.multipliedBy(2), MINUTE, fan));
        SimulatedSite site = fleet.sites().get(0);
        site.advanceTo(onset.plus(Duration.ofHours(6)));
        Instant visit = onset.plus(Duration.ofHours(8));

        assertThat(site.visit("cube-50", visit)).isTrue();
        SiteBatch after = site.advanceTo(fleet.plan().to());

        assertThat(after.events())
                .filteredOn(event -> event.kind() == EventKind.VISIT)
                .singleElement()
                .satisfies(event -> {
                    assertThat(event.at()).isEqualTo(visit);
                    assertThat(event.detail()).isEqualTo("fan-failed");
                });
        assertThat(after.readings())
                .filteredOn(r -> r.machine().equals("cube-50") && r.channel() == Channel.PHASE)
                .filteredOn(
                        r -> r.timeMillis() >= visit.plus(Duration.ofHours(1)).toEpochMilli())
                .isNotEmpty()
                .noneMatch(r -> r.phase() == Phase.STOPPED);
        assertThat(fleet.truth())
                .filteredOn(truth -> truth.machine().equals("cube-50"))
                .singleElement()
                .satisfies(truth -> assertThat(truth.stopped().orElseThrow()).isBetween(onset, visit));
    }

    @Test
    void visit_ofASoundMachine_findsNothingAndSaysSo() {
        FaultPlan later = FaultPlan.step("cube-50", Cause.FAN_FAILED, Plans.START.plus(Duration.ofHours(20)), 1);
        SimulatedSite site = site(Plans.oneOfEach(5, DAY, MINUTE, later));
        Instant visit = Plans.START.plus(Duration.ofHours(2));

        assertThat(site.visit("cube-50", visit)).isFalse();

        assertThat(site.advanceTo(Plans.START.plus(DAY)).events())
                .filteredOn(event -> event.kind() == EventKind.VISIT)
                .singleElement()
                .satisfies(event -> assertThat(event.detail()).isEqualTo("nothing-found"));
        assertThatThrownBy(() -> site.visit("cube-50", visit)).hasMessageContaining("is before");
    }

    private static SimulatedSite site(FleetPlan plan) {
        return new SimulatedFleet(plan).sites().get(0);
    }
}
