package dev.rimecast.analytics.fleet;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.monitor.Recorded;
import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.replay.Replay;
import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.fleet.SimulatedSite;
import dev.rimecast.simulator.fleet.SiteBatch;
import dev.rimecast.simulator.place.SiteKind;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.file.EventsFile;
import dev.rimecast.telemetry.file.log.TelemetryLogWriter;
import dev.rimecast.telemetry.file.result.AlertHistoryFile;
import dev.rimecast.telemetry.file.result.AlertsFile;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A machine whose condenser is stopped up within an hour, its site that answers, and what becomes of the finding. */
class PutRightTest {
    private static final String MACHINE = "stuffy";
    private static final int DAYS = 22;
    private static final Instant ONSET = TrialPlans.TO.minus(Duration.ofDays(6)).plus(Duration.ofHours(9));
    private static final Instant SAID = TrialPlans.TO.minus(Duration.ofDays(3)).plus(Duration.ofHours(10));
    private static final Condition CONDITION = Condition.RISING_CONDENSING_TEMPERATURE;

    private static FaultPlan fault() {
        return FaultPlan.growing(MACHINE, Cause.AIRFLOW_RESTRICTED, ONSET, Duration.ofHours(1), 0.45);
    }

    /** Lives through the plan; what the simulator writes down about mending is left out, so that only the site speaks. */
    private static final class Life extends Recorded {
        final List<Reading> all = new ArrayList<>();
        Register register = new Register(List.of(), List.of());
        private final boolean restarts;
        private SiteMonitor monitor = SiteMonitor.fresh("bar", Policy.standard());

        Life(FaultPlan fault, boolean restarts, SiteRecord.Happened... said) {
            this.restarts = restarts;
            FleetPlan plan = TrialPlans.plan(
                    DAYS,
                    List.of(TrialPlans.site(
                            "bar", SiteKind.BAR, List.of(TrialPlans.cube50(MACHINE, "bar")), List.of())),
                    List.of(fault));
            SimulatedFleet fleet = new SimulatedFleet(plan);
            register = fleet.register();
            SimulatedSite site = fleet.sites().get(0);
            fleet.register()
                    .machines()
                    .forEach(row -> monitor.accept(new SiteRecord.Registered(plan.from(), row), this));
            List<SiteRecord.Happened> waiting = new ArrayList<>(List.of(said));
            for (Instant at = plan.from().plusSeconds(60); !at.isAfter(plan.to()); at = at.plusSeconds(60)) {
                SiteBatch batch = site.advanceTo(at);
                feed(batch.readings(), at);
                while (!waiting.isEmpty() && !waiting.get(0).at().isAfter(at)) {
                    monitor.accept(waiting.remove(0), this);
                    restart();
                }
            }
        }

        private void feed(List<Reading> readings, Instant at) {
            all.addAll(readings);
            if (!readings.isEmpty()) {
                monitor.accept(new SiteRecord.Pack("gw-bar", Optional.empty(), at, readings, 0), this);
            }
            monitor.accept(new SiteRecord.Tick(at), this);
            if (at.getEpochSecond() % 86_400 == 0) {
                restart();
            }
        }

        private void restart() {
            monitor.saveTouched(this::keep);
            if (restarts) {
                monitor = SiteMonitor.restore("bar", states);
            }
        }

        List<Finding> of(Condition condition) {
            return findings.stream().filter(f -> f.condition() == condition).toList();
        }

        Finding at(Instant instant) {
            return of(CONDITION).stream()
                    .filter(f -> f.at().equals(instant))
                    .findFirst()
                    .orElseThrow();
        }
    }

    private static SiteRecord.Happened said(Instant at, String detail) {
        return new SiteRecord.Happened(at, Optional.of(MACHINE), EventKind.SITE_ANSWER, detail, "site", "");
    }

    private static double probability(Finding finding, Cause cause) {
        return finding.causes().stream()
                .filter(c -> c.cause() == cause)
                .mapToDouble(Finding.ProbableCause::probability)
                .findFirst()
                .orElse(0);
    }

    @Test
    void answer_openFinding_movesTheOddsAtOnceAndAsksTheNext() {
        Life life = new Life(fault(), false, said(SAID, "air-blows:not-at-all"));
        Finding before = life.of(CONDITION).stream()
                .filter(f -> f.at().isBefore(SAID))
                .reduce((first, last) -> last)
                .orElseThrow();
        Finding after = life.at(SAID);

        assertThat(before.inquiry().next()).isPresent();
        assertThat(after.revision()).isEqualTo(before.revision() + 1);
        assertThat(after.isOfAnswer()).isTrue();
        assertThat(probability(after, Cause.FAN_FAILED)).isGreaterThan(2 * probability(before, Cause.FAN_FAILED));
        assertThat(after.inquiry().given()).singleElement().satisfies(given -> {
            assertThat(given.question()).isEqualTo("air-blows");
            assertThat(given.by()).isEqualTo("site");
            assertThat(given.speaksFor()).contains(Cause.FAN_FAILED);
            assertThat(given.speaksAgainst()).contains(Cause.AIRFLOW_RESTRICTED);
        });
        assertThat(after.inquiry().next().map(Inquiry.Next::question)).isNotEqualTo(Optional.of("air-blows"));
    }

    @Test
    void answer_thatTheFilterWasFullAndIsWashed_endsTheFindingAfterThreeGoodCycles() {
        Life life = new Life(fault().mendedAt(SAID), false, said(SAID, "air-filter:was-full"));
        Finding over = life.of(CONDITION).stream()
                .filter(f -> f.step() == Finding.Step.CLEARED)
                .findFirst()
                .orElseThrow();

        assertThat(probability(life.at(SAID), Cause.AIRFLOW_RESTRICTED)).isGreaterThan(0.9);
        assertThat(over.summary()).startsWith("Put right on site: the 3 cycles since ");
        assertThat(life.cycles.stream()
                        .filter(c -> c.complete()
                                && c.residuals().stream().anyMatch(r -> r.feature() == Feature.SPLIT)
                                && !c.freezeStart().isBefore(SAID)
                                && !c.end().isAfter(over.at())))
                .as("complete cycles whose split could be judged")
                .hasSize(3);
        assertThat(over.inquiry().given()).hasSize(1);
        assertThat(over.inquiry().next()).isEmpty();
        assertThat(life.findings.get(life.findings.size() - 1).step())
                .as("it stays over")
                .isEqualTo(Finding.Step.CLEARED);
    }

    /** Without the answer the same machine's finding is over much later: what the site says is worth that much. */
    @Test
    void noAnswer_mendedInSilence_isOverOnlyAsAnyOther() {
        Life life = new Life(fault().mendedAt(SAID), false);

        assertThat(life.of(CONDITION))
                .filteredOn(f -> f.step() == Finding.Step.CLEARED)
                .allMatch(f ->
                        !f.summary().contains("Put right on site") && f.at().isAfter(SAID.plus(Duration.ofHours(6))));
    }

    @Test
    void answer_done_butNothingHasChanged_leavesItOpen() {
        Life life = new Life(fault(), false, said(SAID, "airflow-restricted.2:done"));

        assertThat(life.of(CONDITION)).isNotEmpty().noneMatch(f -> f.step() == Finding.Step.CLEARED);
    }

    @Test
    void restart_betweenAnswers_decidesTheSame() {
        SiteRecord.Happened[] said = {
            said(SAID.minusSeconds(7_200), "things-around:free"),
            said(SAID.minusSeconds(3_600), "room-temperature:cannot-tell"),
            said(SAID, "air-filter:was-full")
        };

        Life steady = new Life(fault().mendedAt(SAID), false, said);
        Life restarted = new Life(fault().mendedAt(SAID), true, said);

        assertThat(restarted.findings).isEqualTo(steady.findings);
    }

    /** The same answers as rows of events.csv. */
    @Test
    void replay_withAnswersInItsEvents_writesTheSameAlerts(@TempDir Path directory) throws IOException {
        Life life = new Life(fault().mendedAt(SAID), false, said(SAID, "air-filter:was-full"));
        Path events = directory.resolve("events.csv");
        Files.writeString(
                events,
                "time,machine,event,detail,by\n" + SAID + ',' + MACHINE + ",site-answer,air-filter:was-full,site\n");
        Path log = directory.resolve("telemetry.csv.gz");
        try (TelemetryLogWriter out = new TelemetryLogWriter(log, List.of(Channel.values()))) {
            for (Reading reading : life.all) {
                out.write(reading.machine(), reading.timeMillis(), List.of(reading));
            }
        }
        Replay.run(
                new Replay.Input(List.of(log), life.register, EventsFile.read(events), List.of(), Policy.standard()),
                directory,
                1);
        Path live = directory.resolve("live");
        AlertsFile.write(live, life.findings);
        Path history = directory.resolve("live-history");
        AlertHistoryFile.write(history, life.findings);

        assertThat(Files.readAllLines(directory.resolve("alerts.csv")))
                .isEqualTo(Files.readAllLines(live))
                .anyMatch(row -> row.contains("airflow-restricted"));
        assertThat(Files.readAllLines(directory.resolve("alert_history.csv")))
                .isEqualTo(Files.readAllLines(history))
                .as("a revision at the answer")
                .anyMatch(row -> row.contains(SAID.toString().replace("Z", ".000Z")));
    }

    /** Answers that the machine's own numbers can't explain away still leave probabilities that add up. */
    @Test
    void answers_many_keepProbabilitiesAndStateInBounds() {
        String[] details = {
            "air-filter:clean",
            "things-around:free",
            "air-blows:strongly",
            "room-temperature:usual",
            "coil:clean",
            "fan-turns:full-speed",
            "work-before:nothing",
            "last-descaled:within-six-months",
            "pieces:as-always"
        };
        List<SiteRecord.Happened> said = new ArrayList<>();
        for (int i = 0; i < details.length; i++) {
            said.add(said(SAID.plusSeconds(600L * i), details[i]));
        }
        Life life = new Life(fault(), false, said.toArray(SiteRecord.Happened[]::new));

        Finding last = life.at(SAID.plusSeconds(600L * (details.length - 1)));
        assertThat(last.inquiry().given()).as("the newest six").hasSize(6);
        assertThat(last.causes().stream()
                        .mapToDouble(Finding.ProbableCause::probability)
                        .sum())
                .isLessThanOrEqualTo(1 + 1e-9);
        assertThat(life.states.get(MACHINE)).hasSizeLessThanOrEqualTo(4096);
    }
}
