package dev.rimecast.analytics.fleet;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fault.Truth;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.SitePlan;
import dev.rimecast.simulator.place.SiteKind;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/**
 * The main job: faults that develop are found before any limit, and heat is no fault. The truth is the simulator's, which
 * knows nothing of the detectors.
 */
class DevelopingFaultsTest {
    private static final int DAYS = 30;
    private static final Instant ONSET = TrialPlans.TO.minus(Duration.ofDays(18));
    private static final Set<Condition> OF_THE_MACHINE = Set.of(
            Condition.SLOW_PULL_DOWN,
            Condition.RISING_CONDENSING_TEMPERATURE,
            Condition.HIGH_CONDENSING_TEMPERATURE,
            Condition.DRAIN_PUMP_OVERRUN,
            Condition.LONG_FREEZE,
            Condition.SHORT_FREEZE,
            Condition.LONG_HARVEST);

    private static FleetTrial trial;

    @BeforeAll
    static void simulate() {
        SitePlan kitchen = TrialPlans.site(
                "kitchen",
                SiteKind.KITCHEN,
                List.of(
                        TrialPlans.cube50("fouling", "kitchen"),
                        TrialPlans.cube50("leaking", "kitchen"),
                        TrialPlans.cube50("blocking", "kitchen")),
                List.of());
        Instant warm = TrialPlans.TO.minus(Duration.ofDays(9));
        SitePlan hot = TrialPlans.site(
                "hot",
                SiteKind.WARD,
                List.of(TrialPlans.cube50("sound-1", "hot"), TrialPlans.cube50("sound-2", "hot")),
                List.of(new SitePlan.HeatWave(warm, warm.plus(Duration.ofDays(7)), 9)));
        FleetPlan plan = TrialPlans.plan(
                DAYS,
                List.of(kitchen, hot),
                List.of(
                        FaultPlan.growing("fouling", Cause.AIRFLOW_RESTRICTED, ONSET, Duration.ofDays(30), 0.8),
                        FaultPlan.growing("leaking", Cause.LOW_CHARGE, ONSET, Duration.ofDays(24), 0.6),
                        FaultPlan.growing("blocking", Cause.DRAIN_BLOCKED, ONSET, Duration.ofDays(24), 0.7)));
        trial = FleetTrial.of(plan);
    }

    private static void isRaisedEarly(String machine, Condition condition, double withinDays) {
        Finding first = trial.of(machine, condition).get(0);
        Truth truth = trial.truth.stream()
                .filter(t -> t.machine().equals(machine))
                .findFirst()
                .orElseThrow();

        assertThat(first.stage()).isEqualTo(Stage.EARLY);
        assertThat(first.at()).isAfter(ONSET).isBefore(ONSET.plus(Duration.ofHours(Math.round(24 * withinDays))));
        assertThat(first.at()).isBefore(truth.deadline().orElseThrow());
        assertThat(truth.stopped().filter(s -> s.isBefore(first.at()))).isEmpty();
    }

    private static Finding last(String machine, Condition condition) {
        List<Finding> all = trial.of(machine, condition);
        return all.get(all.size() - 1);
    }

    @Test
    void foulingCondenser_isRaisedEarlyAndDated() {
        isRaisedEarly("fouling", Condition.RISING_CONDENSING_TEMPERATURE, 8);

        Finding last = last("fouling", Condition.RISING_CONDENSING_TEMPERATURE);
        assertThat(last.probableCause().orElseThrow().cause()).isEqualTo(Cause.AIRFLOW_RESTRICTED);
        assertThat(trial.of("fouling", Condition.RISING_CONDENSING_TEMPERATURE))
                .as("a date is given while it develops")
                .anyMatch(f -> f.limit().isPresent());
    }

    @Test
    void lowCharge_slowPullDownIsRaisedEarly() {
        isRaisedEarly("leaking", Condition.SLOW_PULL_DOWN, 12);

        assertThat(last("leaking", Condition.SLOW_PULL_DOWN).causes())
                .first()
                .extracting(Finding.ProbableCause::cause)
                .isIn(Cause.LOW_CHARGE, Cause.COMPRESSOR_WEAK, Cause.REFRIGERANT_RESTRICTION);
    }

    @Test
    void blockingDrain_overrunIsRaisedEarly() {
        isRaisedEarly("blocking", Condition.DRAIN_PUMP_OVERRUN, 10);

        assertThat(last("blocking", Condition.DRAIN_PUMP_OVERRUN)
                        .probableCause()
                        .orElseThrow()
                        .cause())
                .isEqualTo(Cause.DRAIN_BLOCKED);
    }

    @Test
    void heatWave_soundMachines_raiseNothingOfTheMachine() {
        assertThat(trial.findings)
                .filteredOn(f -> f.machine().orElse("").startsWith("sound"))
                .filteredOn(f -> OF_THE_MACHINE.contains(f.condition()))
                .isEmpty();
    }

    @Test
    void faults_beforeTheyBegin_raiseNothing() {
        assertThat(trial.findings.stream()
                        .filter(f -> f.at().isBefore(ONSET))
                        .map(f -> f.machine() + " " + f.condition())
                        .collect(Collectors.toList()))
                .isEmpty();
    }

    /** One problem is not a flood: each condition is said again only when something a person acts on has changed. */
    @Test
    void updates_ofADevelopingFault_areFewerThanOneADay() {
        assertThat(trial.findings).hasSizeLessThan(3 * 18 * 2);
    }

    @Test
    void state_ofEveryMachine_fitsIntoFourKilobytes() {
        assertThat(trial.largestState).isPositive().isLessThanOrEqualTo(4096);
        assertThat(trial.counts.late() + trial.counts.repeated() + trial.counts.unregistered())
                .isZero();
    }
}
