package dev.rimecast.analytics.fleet;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.monitor.OfCycles;
import dev.rimecast.analytics.monitor.Recorded;
import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.monitor.TapePlayer;
import dev.rimecast.analytics.monitor.TapeWriter;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyText;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.fleet.SimulatedSite;
import dev.rimecast.simulator.fleet.SiteBatch;
import dev.rimecast.simulator.trial.TrialChannels;
import dev.rimecast.simulator.trial.TrialFleet;
import dev.rimecast.simulator.trial.TrialSettings;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What another policy raises is the same from cycles as it is from readings, where its numbers act on cycles only. */
class CyclesAgainTest {
    private static final int DAYS = 28;
    private static final int SHORTEST_DAYS = 25;
    private static final List<Map<String, Double>> OTHERS = List.of(
            Map.of(),
            Map.of(
                    "change.false_alarms_per_machine_year", 5.0,
                    "change.own_scatter", 1.5,
                    "change.beyond_unsure", 1.0,
                    "change.hold_learning_at", 0.6,
                    "change.clear_hours", 12.0),
            Map.of(
                    "features.split.material", 0.6,
                    "features.freeze.material", 0.02,
                    "expectation.usable_cycles", 40.0,
                    "expectation.room_wander_kelvin", 0.8,
                    "kind.sigmas", 1.5,
                    "kind.cycles", 30.0,
                    "proof.certainty", 0.9,
                    "forecast.medium_days", 60.0));

    private final List<byte[]> tape = new ArrayList<>();
    private final List<Recorded> fromReadings = new ArrayList<>();
    private final List<SiteMonitor> monitors = new ArrayList<>();
    private int differing;
    /** Where the other numbers take effect, and the tape begins; before the first record at first. */
    private Instant begins = Instant.MIN;

    @ParameterizedTest
    @EnumSource(
            value = TrialChannels.class,
            names = {"FULL", "BARE"})
    void otherPolicy_raisesFromCyclesWhatItRaisesFromReadings(TrialChannels channels) {
        raisesTheSame(plan(DAYS, channels));
    }

    /** The last weeks only, with numbers that take effect on what was learned until then, as a trial's would. */
    @Test
    void otherPolicy_fromTheMiddleOn_raisesFromCyclesWhatItRaisesFromReadings() {
        FleetPlan plan = plan(SHORTEST_DAYS, TrialChannels.BARE);
        begins = plan.from().plus(Duration.ofDays(14)).plusSeconds(60 * 17);
        raisesTheSame(plan);
    }

    private static FleetPlan plan(int days, TrialChannels channels) {
        return TrialFleet.plan(
                new TrialSettings(78, 1, days, Duration.ofSeconds(60), channels, TrialSettings.allCauses()));
    }

    private void raisesTheSame(FleetPlan plan) {
        for (SimulatedSite site : new SimulatedFleet(plan).sites()) {
            live(plan, site);
            for (int i = 0; i < OTHERS.size(); i++) {
                Recorded again = new Recorded();
                TapePlayer player = new TapePlayer(site.site().id(), policy(i), again);
                tape.forEach(player::accept);
                assertThat(ofCycles(again))
                        .as("of cycles, with %s", OTHERS.get(i))
                        .isEqualTo(ofCycles(fromReadings.get(i)));
                assertThat(others(again)).as("of readings").isEqualTo(others(fromReadings.get(i)));
                assertThat(judged(again))
                        .as("cycles, with %s", OTHERS.get(i))
                        .isEqualTo(judged(fromReadings.get(i)))
                        .isNotEmpty();
                differing += judged(again).equals(judged(fromReadings.get(0))) ? 0 : 1;
            }
        }
        assertThat(differing).as("others whose expectations are otherwise").isPositive();
    }

    private static Policy policy(int other) {
        Policy standard = Policy.standard();
        return OTHERS.get(other).isEmpty()
                ? standard
                : Policy.parse(PolicyText.of(standard, standard.version() + other, OTHERS.get(other)));
    }

    private void live(FleetPlan plan, SimulatedSite site) {
        String id = site.site().id();
        tape.clear();
        monitors.clear();
        fromReadings.clear();
        for (int i = 0; i < OTHERS.size(); i++) {
            monitors.add(SiteMonitor.fresh(id, begins.equals(Instant.MIN) ? policy(i) : Policy.standard()));
            fromReadings.add(new Recorded());
        }
        TapeWriter writer = new TapeWriter(tape::add);
        boolean isTaped = begins.equals(Instant.MIN);
        if (isTaped) {
            monitors.get(0).tapedBy(writer);
        }
        List<Machine> machines = plan.register().machinesAt(id);
        machines.forEach(machine -> take(new SiteRecord.Registered(plan.from(), machine)));
        Instant visit = plan.from().plus(Duration.ofDays(22));
        for (Instant at = plan.from().plusSeconds(60); !at.isAfter(plan.to()); at = at.plusSeconds(60)) {
            if (!isTaped && !at.isBefore(begins)) {
                isTaped = true;
                begin(writer);
            }
            SiteBatch batch = site.advanceTo(at);
            batch.events().forEach(this::take);
            if (at.equals(visit)) {
                visit(machines, at);
            }
            List<Reading> readings = batch.readings();
            if (!readings.isEmpty()) {
                take(new SiteRecord.Pack(machines.get(0).gateway(), Optional.empty(), at, readings, 0));
            }
            take(new SiteRecord.Tick(at));
        }
        writer.flush();
    }

    private void begin(TapeWriter writer) {
        fromReadings.replaceAll(before -> new Recorded());
        for (int i = 0; i < monitors.size(); i++) {
            Policy policy = policy(i);
            monitors.get(i)
                    .accept(
                            new SiteRecord.PolicyActivated(Instant.EPOCH, policy.version(), policy.yaml()),
                            fromReadings.get(i));
        }
        monitors.get(0).tapedBy(writer);
    }

    /** Everybody is visited: proofs, and what is learned anew, are part of it. */
    private void visit(List<Machine> machines, Instant at) {
        for (int i = 0; i < machines.size(); i++) {
            take(new SiteRecord.Happened(
                    at,
                    Optional.of(machines.get(i).id()),
                    EventKind.VISIT,
                    List.of("low-charge", "nothing-found", "scale").get(i % 3),
                    "an engineer",
                    ""));
        }
    }

    private void take(SiteRecord siteRecord) {
        for (int i = 0; i < monitors.size(); i++) {
            monitors.get(i).accept(siteRecord, fromReadings.get(i));
        }
    }

    /** What was measured, in which conditions, and what was expected of it: all that is learned shows there. */
    private static List<List<Object>> judged(Recorded of) {
        return of.cycles.stream()
                .map(cycle -> List.<Object>of(
                        cycle.machine(),
                        cycle.freezeStart(),
                        cycle.ambientCelsius(),
                        cycle.waterCelsius(),
                        cycle.splitKelvin(),
                        cycle.residuals()))
                .toList();
    }

    /** Whole, with sentences, causes and dates. */
    private static List<Finding> ofCycles(Recorded of) {
        return of.findings.stream()
                .filter(finding -> OfCycles.isOfCycles(finding.condition()))
                .toList();
    }

    /** Causes of what readings show may go by cycles: those stay as they were, and care does. */
    private static List<String> others(Recorded of) {
        return of.findings.stream()
                .filter(finding -> !OfCycles.isOfCycles(finding.condition()))
                .filter(finding -> finding.step() != Finding.Step.UPDATED)
                .filter(finding -> !finding.condition().isCare())
                .map(finding -> finding.at() + " " + finding.step() + " " + finding.condition() + " "
                        + finding.machine() + finding.raisedAt() + finding.priority() + finding.stage())
                .toList();
    }
}
