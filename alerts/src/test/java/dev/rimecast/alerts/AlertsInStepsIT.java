package dev.rimecast.alerts;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.AlertsInSteps.News;
import dev.rimecast.alerts.life.Findings;
import dev.rimecast.alerts.notice.Books;
import dev.rimecast.alerts.store.DatabaseLogin;
import dev.rimecast.alerts.store.SiteLogStore.Entry;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.NoticeView;
import dev.rimecast.engines.EmbeddedPostgres;
import dev.rimecast.engines.PostgresSettings;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.SiteRecord.Pack;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.reading.Reading;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Ten simulated days in a moment: cycles, a full bin, a stop, who is told, and its end. */
class AlertsInStepsIT {
    /** A Monday. */
    private static final Instant FROM = Findings.NOON;

    private static final int DAYS = 10;

    @Test
    void tenDaysInSteps_iceClockPrioritiesAndNotices_areThoseOfTheServer(@TempDir Path directory) {
        try (EmbeddedPostgres postgres = EmbeddedPostgres.start(directory, PostgresSettings.STANDARD);
                AlertsInSteps stage = AlertsInSteps.open(
                        new DatabaseLogin(
                                postgres.jdbcUrl(),
                                postgres.user(),
                                postgres.password(),
                                Optional.of(new DatabaseLogin.Owner(postgres.owner(), postgres.ownerPassword()))),
                        Books.desk(),
                        FROM)) {
            stage.register(
                    new Register(List.of(Machine.basic("ice-1", "site-a", "gw-a")), List.of()), "policy-1", "a: 1");
            Instant stopped = FROM.plus(Duration.ofDays(DAYS));
            stage.take(stopped, new News(fullBins(), cycles(), List.of()));
            Finding found = Findings.finding(
                    "ice-1", Condition.NOT_MAKING_ICE, stopped, 1, Step.RAISED, Stage.STOPPED, Priority.MEDIUM);
            stage.take(stopped.plusSeconds(600), new News(List.of(), List.of(), List.of(found)));
            stage.look();

            // A bin of 20 kg of which a batch of 1.53 kg is taken each hour: out after 13 h (as in IceIT).
            AlertView alert = stage.views().alerts(AlertFilter.OPEN, 10).get(0);
            assertThat(alert.priority()).isEqualTo(Priority.URGENT);
            assertThat(sent(stage)).containsExactlyInAnyOrder("desk raised", "log raised", "desk digest");

            stage.take(stopped.plusSeconds(45 * 60), new News(List.of(), List.of(), List.of()));
            stage.look();
            assertThat(sent(stage))
                    .as("nobody has acknowledged for half an hour")
                    .contains("standby raised");

            stage.take(
                    stopped.plus(Duration.ofHours(1)),
                    new News(
                            List.of(),
                            List.of(),
                            List.of(Findings.next(found, Step.CLEARED, Stage.STOPPED, Priority.MEDIUM))));
            stage.look();
            stage.actions()
                    .acknowledge(
                            found.id(),
                            stage.views().alert(found.id()).orElseThrow().version(),
                            "ada",
                            "");
            stage.take(stopped.plus(Duration.ofHours(2)), new News(List.of(), List.of(), List.of()));
            stage.look();

            assertThat(sent(stage)).contains("desk over", "standby over").hasSize(6);
            assertThat(stage.notices().list(100))
                    .as("by the time of the steps, not of the wall")
                    .allSatisfy(notice ->
                            assertThat(notice.createdAt()).isBetween(stopped, stopped.plus(Duration.ofHours(2))));
        }
    }

    private static List<String> sent(AlertsInSteps stage) {
        return stage.notices().list(100).stream()
                .filter(notice -> notice.state().equals("sent"))
                .map((NoticeView notice) -> notice.receiver() + ' ' + notice.kind())
                .toList();
    }

    /** Each hour one batch of 44 min, and then ten minutes of a full bin. */
    private static List<Entry> fullBins() {
        List<Entry> log = new ArrayList<>();
        for (int hour = 0; hour < DAYS * 24; hour++) {
            Instant at = FROM.plus(Duration.ofHours(hour));
            Instant full = at.plus(Duration.ofMinutes(50));
            log.add(entry(at, 0));
            log.add(entry(full, 1));
        }
        log.add(entry(FROM.plus(Duration.ofDays(DAYS)), 0));
        return log;
    }

    private static Entry entry(Instant at, int full) {
        Reading reading = Reading.number("ice-1", Channel.BIN_FULL, at.toEpochMilli(), full);
        return new Entry("site-a", new Pack("gw-a", Optional.empty(), at, List.of(reading), 0));
    }

    private static List<Cycle> cycles() {
        List<Cycle> cycles = new ArrayList<>();
        for (int hour = 0; hour < DAYS * 24; hour++) {
            Instant at = FROM.plus(Duration.ofHours(hour));
            cycles.add(Story.cycle("ice-1", at.plusSeconds(300), at.plusSeconds(49 * 60)));
        }
        return cycles;
    }
}
