package dev.rimecast.analytics.fleet;

import dev.rimecast.analytics.drift.ResidualTrack;
import dev.rimecast.analytics.expect.Expected;
import dev.rimecast.analytics.expect.FeatureScale;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fault.Truth;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.SitePlan;
import dev.rimecast.simulator.place.SiteKind;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.Cycle.Residual;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.ToDoubleFunction;

/** The simulated machines that the pictures of the method are made from, watched for {@value #DAYS} days. */
final class PictureFleet {
    static final int DAYS = 45;
    static final int ONSET_DAY = 20;
    static final int WARM_FROM_DAY = 28;
    static final int WARM_TO_DAY = 36;
    static final Instant FROM = TrialPlans.TO.minus(Duration.ofDays(DAYS));
    private static final double DAY_MILLIS = 86_400_000;

    private final FleetTrial trial;

    private PictureFleet(FleetTrial trial) {
        this.trial = trial;
    }

    static FleetPlan plan() {
        Instant onset = FROM.plus(Duration.ofDays(ONSET_DAY));
        SitePlan kitchen = TrialPlans.site(
                "kitchen",
                SiteKind.KITCHEN,
                List.of(
                        TrialPlans.cube50("fouling", "kitchen"),
                        TrialPlans.cube50("leaking", "kitchen"),
                        TrialPlans.cube50("loose", "kitchen")),
                List.of());
        SitePlan ward = TrialPlans.site(
                "ward",
                SiteKind.WARD,
                List.of(TrialPlans.cube50("sound", "ward")),
                List.of(new SitePlan.HeatWave(
                        FROM.plus(Duration.ofDays(WARM_FROM_DAY)), FROM.plus(Duration.ofDays(WARM_TO_DAY)), 9)));
        return TrialPlans.plan(
                DAYS,
                List.of(kitchen, ward),
                List.of(
                        FaultPlan.growing("fouling", Cause.AIRFLOW_RESTRICTED, onset, Duration.ofDays(30), 0.8),
                        FaultPlan.growing("leaking", Cause.LOW_CHARGE, onset, Duration.ofDays(60), 0.5),
                        FaultPlan.step("loose", Cause.EVAPORATOR_SENSOR_LOOSE, onset, 0.12)));
    }

    static PictureFleet watched() {
        return new PictureFleet(FleetTrial.of(plan()));
    }

    static double day(Instant at) {
        return (at.toEpochMilli() - FROM.toEpochMilli()) / DAY_MILLIS;
    }

    List<Cycle> cycles(String machine) {
        return trial.cycles.stream().filter(c -> c.machine().equals(machine)).toList();
    }

    List<Finding> findings(String machine, Condition condition) {
        return trial.of(machine, condition);
    }

    Truth truth(String machine) {
        return trial.truth.stream()
                .filter(t -> t.machine().equals(machine))
                .findFirst()
                .orElseThrow();
    }

    /** Day and some value of every judged cycle. */
    List<double[]> residuals(String machine, Feature feature, ToDoubleFunction<Residual> value) {
        List<double[]> points = new ArrayList<>();
        for (Cycle cycle : cycles(machine)) {
            residual(cycle, feature)
                    .ifPresent(r -> points.add(new double[] {day(cycle.end()), value.applyAsDouble(r)}));
        }
        return points;
    }

    static Optional<Residual> residual(Cycle cycle, Feature feature) {
        return cycle.residuals().stream().filter(r -> r.feature() == feature).findFirst();
    }

    /**
     * The residuals of a machine's cycles once more through the charts: day, and the shares of their limits at which the sum and
     * the average stand.
     */
    List<double[]> charts(String machine, Feature feature, GroupPolicy policy) {
        ResidualTrack track = new ResidualTrack(policy);
        List<double[]> points = new ArrayList<>();
        for (Cycle cycle : cycles(machine)) {
            residual(cycle, feature).ifPresent(r -> {
                double residual =
                        FeatureScale.toScale(feature, r.measured()) - FeatureScale.toScale(feature, r.expected());
                double sigma = FeatureScale.isRatio(feature) ? r.sigma() / r.expected() : r.sigma();
                track.add(
                        residual,
                        new Expected(0, sigma * sigma, 0, 0),
                        true,
                        cycle.end().toEpochMilli(),
                        policy);
                points.add(new double[] {
                    day(cycle.end()), track.sumShare(true, policy), Math.max(0, track.averageShare(true, policy))
                });
            });
        }
        return points;
    }
}
