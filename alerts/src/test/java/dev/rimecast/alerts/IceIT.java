package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.life.Findings;
import dev.rimecast.alerts.priority.Clocks;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.MachineView.FleetRow;
import dev.rimecast.alerts.view.SiteIce;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.SiteRecord.Pack;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** The ice clock from the sites' logs and cycles to the order of the fleet. */
class IceIT {
    private static final int DAYS = 10;

    private volatile Instant now = NOON.plus(Duration.ofDays(DAYS));

    private Engines engines;
    private AlertsStage stage;

    @BeforeEach
    void start() {
        Awaitility.setDefaultTimeout(Duration.ofSeconds(60));
        engines = new Engines();
        stage = engines.startStage(() -> now);
        List<Machine> machines = List.of(
                Machine.basic("known", "site-a", "gw-a"),
                Machine.basic("mute", "site-b", "gw-b"),
                Machine.basic("other", "site-c", "gw-c"),
                Machine.basic("first", "site-d", "gw-d"),
                Machine.basic("retrofit", "site-d", "gw-d"));
        stage.registerImport().apply(new Register(machines, List.of()), "policy-1", "a: 1");
    }

    @AfterEach
    void stop() {
        stage.close();
        engines.close();
    }

    @Test
    void machineStops_siteRunsOutToday_leadsTheFleetAndSaysWhen() throws Exception {
        liveThrough("known", "site-a");
        engines.flush();
        await().until(() -> engines.isTakenIn(Topics.SITES) && engines.isTakenIn(Topics.CYCLES));
        Finding stopped = finding("known", "site-a", Condition.NOT_MAKING_ICE);
        Finding unknown = finding("mute", "site-b", Condition.NOT_MAKING_ICE);
        engines.send(stopped);
        engines.send(unknown);
        engines.flush();
        await().until(() -> engines.isTakenIn(Topics.FINDINGS));
        now = now.plus(Duration.ofMinutes(2));

        AlertView alert = await().until(
                        () -> stage.views().alert(stopped.id()),
                        view -> view.map(AlertView::priority).equals(Optional.of(Priority.URGENT)))
                .orElseThrow();
        assertThat(alert.priorityWhy()).isEqualTo("The site runs out of ice within a day.");
        assertThat(alert.ice())
                .hasValueSatisfying(ice -> assertThat(ice.words())
                        .startsWith("The site runs out of ice on")
                        .contains("between")
                        .contains("kg short in the 24 hours after"));
        assertThat(alert.ice()).map(SiteIce::says).contains(Clocks.Ice.SHORT);
        // 20 kg in the bin, 1.53 kg/h leave: out after 13 h, long before the 14 days of its class
        assertThat(Duration.between(now, alert.advice().latestDate().orElseThrow()))
                .isBetween(Duration.ofHours(12), Duration.ofHours(14));
        assertThat(stage.views().fleet()).extracting(FleetRow::machine).startsWith("known", "mute");
        AlertView mute = stage.views().alert(unknown.id()).orElseThrow();
        assertThat(mute.priority()).isEqualTo(Priority.MEDIUM);
        assertThat(mute.ice())
                .contains(new SiteIce(
                        Clocks.Ice.NOT_KNOWN,
                        "Not known when the site runs out of ice: what is taken from mute is not learned yet."));
    }

    /**
     * A site of two machines, one of which has no bin signal: it makes a batch of 1.53 kg an hour, so that is what is taken
     * from it, as from the other; run on end it makes 50 kg a day, 2.08 kg/h. When the other stops, 0.97 kg/h are missing.
     */
    @Test
    void oneOfTwoStops_otherHasNoBinSignal_countsWithHalfABin() throws Exception {
        liveThrough("first", "site-d");
        for (int hour = 0; hour < DAYS * 24; hour++) {
            Instant at = NOON.plus(Duration.ofHours(hour));
            engines.send("site-d", Story.cycle("retrofit", at, at.plus(Duration.ofMinutes(44))));
        }
        engines.flush();
        await().until(() -> engines.isTakenIn(Topics.SITES) && engines.isTakenIn(Topics.CYCLES));
        Finding stopped = finding("first", "site-d", Condition.NOT_MAKING_ICE);
        engines.send(stopped);
        engines.flush();
        await().until(() -> engines.isTakenIn(Topics.FINDINGS));
        now = now.plus(Duration.ofMinutes(2));

        AlertView alert = await().until(
                        () -> stage.views().alert(stopped.id()),
                        view -> view.flatMap(AlertView::ice).isPresent()
                                && view.map(AlertView::priority).equals(Optional.of(Priority.HIGH)))
                .orElseThrow();
        // 20 kg in the first bin and 10 kg, half of it, in the other: 30 / 0.97 = 30.8 h
        assertThat(Duration.between(now, alert.advice().latestDate().orElseThrow()))
                .isBetween(Duration.ofMinutes(29 * 60 + 30), Duration.ofHours(32));
        assertThat(alert.priorityWhy()).isEqualTo("The site runs out of ice within three days.");
    }

    /** Each hour one batch of 44 min, 50 kg × 44 min / 24 h = 1.53 kg, and then ten minutes of a full bin. */
    private void liveThrough(String machine, String site) {
        Instant from = NOON;
        for (int hour = 0; hour < DAYS * 24; hour++) {
            Instant at = from.plus(Duration.ofHours(hour));
            Instant full = at.plus(Duration.ofMinutes(50));
            engines.send(site, Story.cycle(machine, at.plusSeconds(300), full.minusSeconds(60)));
            List<Reading> readings = new ArrayList<>();
            readings.add(Reading.number(machine, Channel.BIN_FULL, at.toEpochMilli(), 0));
            readings.add(Reading.number(machine, Channel.BIN_FULL, full.toEpochMilli(), 1));
            engines.send(site, new Pack("gw-a", Optional.empty(), full, readings, 0));
        }
        long end = now.toEpochMilli();
        engines.send(
                site,
                new Pack("gw-a", Optional.empty(), now, List.of(Reading.number(machine, Channel.BIN_FULL, end, 0)), 0));
    }

    private Finding finding(String machine, String site, Condition condition) {
        Finding plain = Findings.finding(machine, condition, now, 1, Step.RAISED, Stage.AT_LIMIT, Priority.MEDIUM);
        return new Finding(
                plain.id(),
                1,
                Step.RAISED,
                site,
                plain.machine(),
                Optional.empty(),
                condition,
                Stage.AT_LIMIT,
                Priority.MEDIUM,
                now,
                now,
                List.of(),
                Optional.empty(),
                Optional.empty(),
                "Something was seen.",
                "detector-1",
                "policy-1");
    }
}
