package dev.rimecast.history.backtest;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.ToyLog;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.history.table.Taken;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord.Registered;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.reading.Reading;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Fifteen days of two machines that make ice all the time, one beside the other in a room. From the sixth day on the condenser of one gets warmer
 * by the day, and its cycles longer: it takes what was learned before the snapshot to tell that, and a date. What was live is what a monitor of the site says that
 * was fed record by record and never stopped, without any of the code that decides the history anew.
 */
class SnapshotOfCyclesTest {
    private static final int DAYS = 15;
    private static final int WORSE_FROM = 6 * 1440;
    private static final int FREEZE = 20;
    private static final int HARVEST = 4;

    @TempDir
    Path root;

    private final Random random = new Random(58);
    private final ToyLog log = new ToyLog();
    private final List<Finding> live = new ArrayList<>();
    private int liveCycles;

    private void readings(int minute, String machine, double worse) {
        int of = minute % (FREEZE + HARVEST);
        long millis = ToyLog.at(minute).toEpochMilli();
        double ambient = 22 + 3 * StrictMath.sin(2 * Math.PI * minute / 1440);
        log.pack(
                ToyLog.temperature(minute, machine, (of < FREEZE ? 15 - (1.6 - 0.03 * worse) * of : 10) + noise(0.3)),
                Reading.number(
                        machine, Channel.CONDENSER_TEMPERATURE, millis, ambient + 16 + 0.2 * of + worse + noise(0.4)),
                Reading.number(machine, Channel.AMBIENT_TEMPERATURE, millis, ambient + noise(0.2)),
                Reading.phase(machine, millis, of < FREEZE ? Phase.FREEZE : Phase.HARVEST));
    }

    private double noise(double sigma) {
        return sigma * random.nextGaussian();
    }

    private HistoryDirectory write() {
        log.site(new Registered(ToyLog.START, Machine.basic("ice-1", ToyLog.SITE, "gw-1")));
        log.site(new Registered(ToyLog.START, Machine.basic("ice-2", ToyLog.SITE, "gw-1")));
        for (int minute = 0; minute < DAYS * 1440; minute += 2) {
            double worse = Math.max(0, minute - WORSE_FROM) / 1440.0 * 1.2;
            readings(minute, "ice-1", worse);
            readings(minute, "ice-2", 0);
            log.tick(minute);
        }
        SiteMonitor monitor = SiteMonitor.fresh(ToyLog.SITE, Policy.standard());
        for (Taken record : log.records()) {
            monitor.accept(SiteLogCodec.decode(record.value()), new Said());
        }
        HistoryDirectory directory = new HistoryDirectory(root.resolve("history"));
        // Each came in when its minute was over: a pack of each machine, and the tick.
        List<Taken> arrived = new ArrayList<>();
        for (Taken record : log.records()) {
            long at = ToyLog.at(2 * Math.toIntExact(Math.max(0, record.offset() - 2) / 3))
                    .toEpochMilli();
            arrived.add(new Taken(
                    record.topic(),
                    record.log(),
                    record.partition(),
                    record.offset(),
                    at,
                    record.key(),
                    record.value()));
        }
        for (Finding finding : live) {
            arrived.add(new Taken(
                    Topics.FINDINGS,
                    "toy-log",
                    0,
                    arrived.size() - log.records().size(),
                    finding.at().toEpochMilli(),
                    ToyLog.SITE,
                    FindingJson.encode(finding)));
        }
        writer(directory).add(arrived, ToyLog.positions(arrived), List.of());
        return directory;
    }

    private final class Said implements SiteMonitor.Output {
        @Override
        public void cycle(Cycle cycle) {
            liveCycles++;
        }

        @Override
        public void finding(Finding finding) {
            live.add(finding);
        }

        @Override
        public void proof(Proof proof) {
            // of work, of which there is none
        }
    }

    private HistoryWriter writer(HistoryDirectory directory) {
        return HistoryWriter.open(
                directory, new Duck.Limits(128, 1, root.resolve("spill")), new Views(directory)::script);
    }

    @Test
    void whatWasLearnedBeforeTheSnapshot_isInIt() {
        HistoryDirectory directory = write();
        assertThat(liveCycles).isGreaterThan(2 * DAYS * 50);
        SnapshotRun run = new SnapshotRun(writer(directory), () -> 0, 5_000);
        while (run.advance(ToyLog.at(DAYS * 1440), 0)) {
            assertThat(directory.read().snapshots()).hasSizeLessThan(DAYS);
        }

        try (History history = History.open(directory.root(), 128, false)) {
            Start start = Start.before(
                    history, Start.newestMinute(history).orElseThrow().minus(Duration.ofDays(6)));
            assertThat(start.until().orElseThrow())
                    .as("more than a week is in it")
                    .isAfter(ToyLog.at(7 * 1440 - 10));
            Decided decided = LogRun.run(history, Start.LIVE, 1, (done, all) -> {}, start, Resume.none());
            Live beside = Live.compare(history, decided.findings().get(0), start);

            assertThat(decided.cycles()).isEqualTo(liveCycles);
            assertThat(beside.firstDifference()).isEmpty();
            assertThat(beside.isSame()).isTrue();
            assertThat(beside.later()).isZero();
            assertThat(decided.findings().get(0))
                    .as("told from what was learned, with a date, after the snapshot")
                    .anySatisfy(finding -> {
                        assertThat(finding.condition()).isEqualTo(Condition.RISING_CONDENSING_TEMPERATURE);
                        assertThat(finding.limit()).isPresent();
                        assertThat(finding.at()).isAfter(start.until().orElseThrow());
                    });
        }
    }
}
