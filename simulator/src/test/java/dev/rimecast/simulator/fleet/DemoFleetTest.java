package dev.rimecast.simulator.fleet;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.simulator.fault.Truth;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Register;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class DemoFleetTest {
    private static final Instant NOW = Instant.parse("2026-11-24T12:00:00Z");

    @Test
    void plan_ofTheDemo_hasTwentyFourMachinesOfWhichMostAreSound() {
        FleetPlan plan = DemoFleet.plan(NOW);
        Register register = plan.register();
        assertThat(register.machines()).hasSize(24);
        assertThat(register.sites()).hasSize(6);
        long faulty = plan.faults().stream().map(f -> f.machine()).distinct().count();
        assertThat(register.machines().size() - faulty).isGreaterThanOrEqualTo(12);
        assertThat(Duration.between(plan.from(), plan.to())).isEqualTo(DemoFleet.HISTORY);
    }

    @Test
    void fouledCondenser_whateverTheSeasonOfTheDemo_stopsItsMachineAFewDaysFromNow() {
        for (String date : new String[] {"2026-11-24T12:00:00Z", "2027-07-01T20:00:00Z"}) {
            Instant now = Instant.parse(date);
            Duration left = Duration.between(now, stopOf("lantern-kitchen", "lantern-kitchen-2", now));
            assertThat(left).as(date).isBetween(Duration.ofDays(4), Duration.ofDays(8));
        }
    }

    @Test
    void blockedDrain_ofTheDemo_stopsItsMachineAFewDaysFromNow() {
        Duration left = Duration.between(NOW, stopOf("harbour-hotel", "harbour-hotel-2", NOW));
        assertThat(left).isBetween(Duration.ofDays(3), Duration.ofDays(9));
    }

    /** Runs one site alone, the plan's sites being independent, and returns when that machine stopped itself. */
    private static Instant stopOf(String siteId, String machine, Instant now) {
        SimulatedSite site = new SimulatedFleet(DemoFleet.plan(now, Duration.ofMinutes(10)))
                .sites().stream()
                        .filter(s -> s.site().id().equals(siteId))
                        .findFirst()
                        .orElseThrow();
        Instant end = now.plus(Duration.ofDays(10));
        while (site.now().isBefore(end)) {
            site.advanceTo(site.now().plus(Duration.ofDays(1)));
        }
        Truth truth = site.truth().stream()
                .filter(t -> t.machine().equals(machine))
                .findFirst()
                .orElseThrow();
        assertThat(truth.cause()).isIn(Optional.of(Cause.AIRFLOW_RESTRICTED), Optional.of(Cause.DRAIN_BLOCKED));
        return truth.stopped().orElseThrow();
    }
}
