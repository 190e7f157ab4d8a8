package dev.rimecast.simulator.trial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fault.Truth;
import dev.rimecast.simulator.fleet.ChannelSet;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.MachinePlan;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.fleet.SitePlan;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.time.Instant;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

class TrialFleetTest {
    private static final Set<Cause> NONE = Set.of();

    @Test
    void plan_ofTheSameSettings_isTheSame_andOfAnotherSeedAnother() {
        assertThat(plan(7, NONE)).isEqualTo(plan(7, NONE));
        assertThat(plan(7, TrialSettings.allCauses())).isEqualTo(plan(7, TrialSettings.allCauses()));
        assertThat(plan(8, TrialSettings.allCauses())).isNotEqualTo(plan(7, TrialSettings.allCauses()));
    }

    @Test
    void fleetOfUsualSize_hasEveryCause_andAboutHalfOfItsMachinesSound() {
        for (long seed = 1; seed <= 10; seed++) {
            FleetPlan plan = plan(seed, TrialSettings.allCauses());

            assertThat(plan.faults().stream().map(FaultPlan::cause).collect(Collectors.toSet()))
                    .as("seed %d", seed)
                    .isEqualTo(TrialSettings.allCauses());
            long machines = machines(plan).size();
            long faulty =
                    plan.faults().stream().map(FaultPlan::machine).distinct().count();
            assertThat(faulty).isEqualTo(plan.faults().size()).isBetween(machines * 4 / 10, machines * 65 / 100);
        }
    }

    @Test
    void causes_ofATrial_areAllButTwo() {
        // All but the one that has no model, and the name of a group.
        assertThat(EnumSet.complementOf(EnumSet.copyOf(TrialSettings.allCauses())))
                .containsExactlyInAnyOrder(Cause.CONTROLLER_FAILED, Cause.WATER_LOSS);
    }

    @Test
    void faults_beginAfterFifteenDays_andHaveTheirDeadlineInsideTheRun() {
        for (long seed = 1; seed <= 20; seed++) {
            FleetPlan plan = plan(seed, TrialSettings.allCauses());
            for (FaultPlan fault : plan.faults()) {
                Instant deadline = Truth.of(fault, Optional.empty()).deadline().orElseThrow();
                assertThat(fault.onset())
                        .as("%s seed %d", fault, seed)
                        .isAfterOrEqualTo(plan.from().plus(days(15)));
                assertThat(deadline).as("%s seed %d", fault, seed).isBefore(plan.to());
                if (!fault.grows().isZero()) {
                    assertThat(fault.grows()).isBetween(days(7), days(200));
                }
            }
        }
    }

    @Test
    void stepsAfterWork_mostlyComeWithinHoursOfTheEventThatIsWrittenDown() {
        int steps = 0;
        int explained = 0;
        for (long seed = 1; seed <= 30; seed++) {
            FleetPlan plan = plan(seed, Set.of(Cause.CURTAIN_MISPLACED, Cause.SUMP_PLUG_OFF));
            for (FaultPlan fault : plan.faults()) {
                steps++;
                explained += plan.events().stream()
                                .anyMatch(e -> e.machine().equals(Optional.of(fault.machine()))
                                        && e.kind() == EventKind.CLEANED
                                        && e.at().isBefore(fault.onset())
                                        && e.at().isAfter(fault.onset().minus(Duration.ofHours(3))))
                        ? 1
                        : 0;
            }
        }
        // 70 % are meant; three standard deviations of some thousand.
        assertThat(explained / (double) steps).isBetween(0.66, 0.75);
    }

    @Test
    void bareFleet_sendsTwoTemperatures_andHasOnlyFaultsThatTheseCanShow() {
        FleetPlan plan = TrialFleet.plan(
                new TrialSettings(3, 20, 120, Duration.ofSeconds(60), TrialChannels.BARE, TrialSettings.allCauses()));

        assertThat(machines(plan)).allMatch(m -> m.channels() == ChannelSet.TEMPERATURES);
        assertThat(plan.faults())
                .noneMatch(f -> f.cause() == Cause.DRAIN_BLOCKED || f.cause() == Cause.BIN_SENSOR_FAILED)
                .anyMatch(f -> f.cause() == Cause.LOW_CHARGE);
    }

    @Test
    void rooms_withTheirHeatWaves_stayWithinWhatASoundMachineStands() {
        FleetPlan plan = plan(5, NONE);
        for (SitePlan site : plan.sites()) {
            RoomCourse room =
                    new RoomCourse(site.kind(), site.climate(), site.site().timeZone(), plan.from(), plan.to());
            assertThat(room.hottest()).isLessThanOrEqualTo(RoomCourse.HOTTEST_CELSIUS);
            assertThat(room.coldest()).isGreaterThanOrEqualTo(RoomCourse.COLDEST_CELSIUS);
            for (SitePlan.HeatWave wave : site.heatWaves()) {
                assertThat(room.hottest(wave.from(), wave.to()) + wave.kelvin())
                        .isLessThanOrEqualTo(RoomCourse.HOTTEST_CELSIUS + 1e-9);
            }
        }
        assertThat(plan.sites()).anyMatch(site -> site.heatWaves().size() > 3);
    }

    @Test
    void soundFleet_neverStopsItself() {
        FleetPlan plan =
                TrialFleet.plan(new TrialSettings(11, 4, 25, Duration.ofSeconds(60), TrialChannels.FULL, NONE));
        SimulatedFleet fleet = new SimulatedFleet(plan);
        fleet.sites().parallelStream().forEach(site -> {
            List<Reading> readings = site.advanceTo(plan.to()).readings();
            assertThat(readings)
                    .noneMatch(r -> r.channel() == Channel.PHASE && r.phase() == Phase.STOPPED)
                    .noneMatch(r -> r.channel() == Channel.CONTROLLER_STATUS);
        });
        assertThat(fleet.truth()).allMatch(truth -> truth.cause().isEmpty());
    }

    @Test
    void settings_ofACauseWithoutAModel_areRefused() {
        assertThatThrownBy(() -> new TrialSettings(
                        1, 1, 60, Duration.ofSeconds(60), TrialChannels.FULL, Set.of(Cause.CONTROLLER_FAILED)))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("controller-failed");
    }

    private static FleetPlan plan(long seed, Set<Cause> causes) {
        return TrialFleet.plan(new TrialSettings(seed, 24, 120, Duration.ofSeconds(60), TrialChannels.MIXED, causes));
    }

    private static List<MachinePlan> machines(FleetPlan plan) {
        return plan.sites().stream().flatMap(site -> site.machines().stream()).toList();
    }

    private static Duration days(long days) {
        return Duration.ofDays(days);
    }
}
