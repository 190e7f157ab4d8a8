package dev.rimecast.analytics.replay;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.file.log.TelemetryLogWriter;
import dev.rimecast.telemetry.file.result.AlertHistoryFile;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A gateway that is not heard for three days: a replay of what is recorded says what was said live, minute by minute. */
class SilentLinkTest {
    private static final Machine MACHINE = Machine.basic("ice-1", "cellar", "gw-1");
    private static final long FROM = Instant.parse("2026-05-04T00:00:00Z").toEpochMilli();
    private static final long MINUTE = 60_000;
    private static final int BEFORE = 90;
    private static final int AGAIN = BEFORE + 3 * 1440;
    private static final int END = AGAIN + 30;

    @TempDir
    private Path directory;

    @Test
    void replay_saysWhatWasSaidLive() throws IOException {
        Path log = directory.resolve("log.csv");
        Live live = new Live();
        try (TelemetryLogWriter out = new TelemetryLogWriter(log, List.of(Channel.EVAPORATOR_TEMPERATURE))) {
            for (int minute = 0; minute <= END; minute++) {
                long at = FROM + minute * MINUTE;
                if (minute < BEFORE || minute >= AGAIN) {
                    List<Reading> pack =
                            List.of(Reading.number(MACHINE.id(), Channel.EVAPORATOR_TEMPERATURE, at, -5 + minute % 3));
                    out.write(MACHINE.id(), at, pack);
                    live.accept(new SiteRecord.Pack("gw-1", Optional.empty(), Instant.ofEpochMilli(at), pack, 0));
                }
                live.accept(new SiteRecord.Tick(Instant.ofEpochMilli(at + MINUTE)));
            }
        }
        Replay.run(
                new Replay.Input(
                        List.of(log),
                        new Register(List.of(MACHINE), List.of()),
                        List.of(),
                        List.of(),
                        Policy.standard()),
                directory,
                1);

        AlertHistoryFile.write(directory.resolve("live.csv"), live.findings);
        assertThat(live.findings)
                .extracting(Finding::step)
                .containsExactly(Finding.Step.RAISED, Finding.Step.UPDATED, Finding.Step.CLEARED);
        assertThat(directory.resolve(Replay.ALERT_HISTORY)).hasSameTextualContentAs(directory.resolve("live.csv"));
        assertThat(Files.readString(directory.resolve("live.csv"))).contains(",low,", ",medium,");
    }

    private static final class Live implements SiteMonitor.Output {
        private final SiteMonitor monitor = SiteMonitor.fresh("cellar", Policy.standard());
        private final List<Finding> findings = new ArrayList<>();

        Live() {
            accept(new SiteRecord.Registered(Instant.ofEpochMilli(FROM), MACHINE));
        }

        void accept(SiteRecord record) {
            monitor.accept(record, this);
        }

        @Override
        public void cycle(Cycle cycle) {
            // none is made
        }

        @Override
        public void finding(Finding finding) {
            findings.add(finding);
        }

        @Override
        public void proof(Proof proof) {
            // nothing was mended
        }
    }
}
