package dev.rimecast.analytics.fleet;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Stage;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/**
 * How often a machine is called faulty that is not. Only what the detectors conclude from change counts as wrong: that a
 * simulated machine has passed a limit of its own controller, or that its room is too warm, is true when it is said.
 */
class HealthyFleetIT {
    private static final int DAYS = 45;

    @Test
    void healthyFleets_falseAlarmsOfChange_areAsSeldomAsTheyMustBe() {
        double machineYears = 0;
        long wrong = 0;
        Map<Condition, Long> all = new TreeMap<>();
        for (long seed = 101; seed <= 102; seed++) {
            FleetTrial trial = FleetTrial.of(TrialPlans.healthy(seed, DAYS));
            machineYears += trial.machineYears;
            wrong += trial.raised().stream()
                    .filter(f -> f.stage() == Stage.EARLY)
                    .count();
            trial.raised().stream()
                    .collect(Collectors.groupingBy(Finding::condition, Collectors.counting()))
                    .forEach((condition, count) -> all.merge(condition, count, Long::sum));
        }
        System.out.printf(
                "healthy fleets: %.1f machine-years, %d raised from change (%.2f a year), all conditions %s%n",
                machineYears, wrong, wrong / machineYears, all);

        // At most 0.3 a machine-year are wanted; with 5.9 machine-years that is 1.8, and 5 or more have a chance of 4
        // %.
        assertThat(wrong).isLessThanOrEqualTo(4);
    }
}
