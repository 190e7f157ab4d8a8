package dev.rimecast.history.effect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyText;
import dev.rimecast.history.ToyLog;
import dev.rimecast.history.backtest.Labels;
import dev.rimecast.history.backtest.Window;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.PolicyActivated;
import dev.rimecast.telemetry.log.SiteRecord.Registered;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CancellationException;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Of a machine that is too hot for a while on the fourth day; a visit says what it was. */
class ReadyPastTest {
    private static final int MINUTES = 5 * 1440;
    private static final int HOT = 3 * 1440 + 900;
    private static final int CYCLE = 24;
    private static final int FREEZE = 20;

    @TempDir
    static Path root;

    @TempDir
    Path tapes;

    @BeforeAll
    static void write() {
        ToyLog log = new ToyLog();
        log.site(new Registered(ToyLog.START, Machine.basic("ice-1", ToyLog.SITE, "gw-1")));
        log.site(new PolicyActivated(
                ToyLog.START, "slow", other("expectation.usable_cycles", 50).yaml()));
        for (int minute = 0; minute < MINUTES; minute++) {
            if (minute == MINUTES - 100) {
                log.event(minute, "ice-1", EventKind.VISIT, "airflow-restricted");
            }
            if (minute % 2 == 0) {
                readings(log, minute);
            }
            log.tick(minute);
        }
        log.cycle(HOT, "ice-1").cycle(HOT + 30, "ice-1");
        HistoryDirectory directory = new HistoryDirectory(root.resolve("history"));
        HistoryWriter.open(directory, new Duck.Limits(128, 1, root.resolve("spill")), new Views(directory)::script)
                .add(log.records(), log.positions(), List.of());
    }

    private static void readings(ToyLog log, int minute) {
        int of = minute % CYCLE;
        boolean isHot = minute >= HOT && minute < HOT + 30;
        long millis = ToyLog.at(minute).toEpochMilli();
        // no sensor shows the same for hours
        double condenser = isHot ? 70 : 38 + 0.3 * of + minute * 7919 % 11 * 0.1;
        log.pack(
                ToyLog.temperature(minute, "ice-1", of < FREEZE ? 15 - 1.6 * of : 10),
                Reading.number("ice-1", Channel.CONDENSER_TEMPERATURE, millis, condenser),
                Reading.number("ice-1", Channel.AMBIENT_TEMPERATURE, millis, 22 + minute * 104729L % 13 * 0.1),
                Reading.phase("ice-1", millis, of < FREEZE ? Phase.FREEZE : Phase.HARVEST));
    }

    private static Policy other(String path, double value) {
        Policy standard = Policy.standard();
        return Policy.parse(PolicyText.of(standard, "other", Map.of(path, value)));
    }

    private ReadyPast ready(History past, int runInDays) {
        return ReadyPast.of(past, Policy.standard(), 2, Duration.ofDays(runInDays), tapes, 1, (done, all) -> {});
    }

    private static ReadyPast.Known labels(ReadyPast ready) throws Exception {
        return ready.known(Labels.of(ready.judged(), Optional.empty(), List.of()));
    }

    @Test
    void sameNumbers_fromTheMiddleOn_raiseTheSame_andOthersWhatTheyWouldHave() throws Exception {
        try (History past = History.open(root.resolve("history"), 128, false);
                ReadyPast ready = ready(past, 2)) {
            ReadyPast.Known labels = labels(ready);
            assertThat(ready.order(labels)).containsExactly(ToyLog.SITE);

            SiteShift same = ready.shift(ToyLog.SITE, other("forecast.high_days", 3), labels, () -> true);
            SiteShift deaf = ready.shift(ToyLog.SITE, other("features.split.material", 50), labels, () -> true);

            assertThat(same.currentAlerts()).as("rising, and at its limit").isGreaterThan(1);
            assertThat(same.isOtherwise()).isFalse();
            assertThat(same.candidate().found()).isEqualTo(1);
            assertThat(deaf.isOtherwise()).isTrue();
            assertThat(deaf.more()).isNegative();
            assertThat(deaf.candidateAlerts()).as("at its limit all the same").isPositive();
            assertThat(ready.alerts()).isEqualTo(same.currentAlerts());
            assertThat(ready.fleet(List.of(deaf), labels))
                    .contains(new FleetShift(deaf.more(), deaf.more(), deaf.more()));
        }
        assertThat(tapes).as("tapes are gone").isEmptyDirectory();
    }

    @Test
    void ofALogThatIsShorter_isAllOfIt() throws Exception {
        try (History past = History.open(root.resolve("history"), 128, false);
                ReadyPast ready = ready(past, 30)) {
            SiteShift same = ready.shift(ToyLog.SITE, other("forecast.high_days", 3), labels(ready), () -> true);

            assertThat(same.currentAlerts()).isGreaterThan(1);
            assertThat(same.isOtherwise()).isFalse();
        }
    }

    @Test
    void whatNobodyWants_ends() throws Exception {
        try (History past = History.open(root.resolve("history"), 128, false);
                ReadyPast ready = ready(past, 2)) {
            ReadyPast.Known labels = labels(ready);
            assertThatThrownBy(
                            () -> ready.shift(ToyLog.SITE, other("features.split.material", 50), labels, () -> false))
                    .isInstanceOf(CancellationException.class);
        }
    }

    @Test
    void closed_saysSo_ratherThanThatNothingDiffers() throws Exception {
        try (History past = History.open(root.resolve("history"), 128, false)) {
            ReadyPast ready = ready(past, 2);
            ReadyPast.Known labels = labels(ready);
            ready.close();

            assertThatThrownBy(() -> ready.shift(ToyLog.SITE, other("features.split.material", 50), labels, () -> true))
                    .isInstanceOf(IllegalStateException.class);
        }
    }

    @Test
    void moreSitesThanItIsFor_orADiskThatIsFull_isRefusedInWords() {
        ReadyPast.refuseMore(999, ReadyPast.MOST_SITES);
        assertThatThrownBy(() -> ReadyPast.refuseMore(1_000, ReadyPast.MOST_SITES))
                .isInstanceOf(HistoryException.class)
                .hasMessageContaining("up to 1000 sites");
        assertThatThrownBy(() -> ReadyPast.refuseFullDisk(tapes, Long.MAX_VALUE))
                .isInstanceOf(HistoryException.class)
                .hasMessageContaining("free");
    }

    @Test
    void limits_areCountedFromStoredCycles() throws Exception {
        try (History past = History.open(root.resolve("history"), 128, false);
                ReadyPast ready = ready(past, 30)) {
            LimitCount count = LimitCount.of(
                    past,
                    "limits.pull_down_seconds",
                    ready.judged().machines(),
                    Policy.standard(),
                    other("limits.pull_down_seconds", 400),
                    new Window(ToyLog.START, ToyLog.at(MINUTES)));

            assertThat(count.current()).isEqualTo(new LimitCount.Beyond(0, 0));
            assertThat(count.candidate()).as("412.5 s each").isEqualTo(new LimitCount.Beyond(2, 1));
            LimitCount earlier = LimitCount.of(
                    past,
                    "limits.pull_down_seconds",
                    ready.judged().machines(),
                    Policy.standard(),
                    other("limits.pull_down_seconds", 400),
                    new Window(ToyLog.START, ToyLog.at(HOT - 60)));
            assertThat(earlier.candidate()).as("both came later").isEqualTo(new LimitCount.Beyond(0, 0));
        }
        assertThat(LimitCount.isCounted("limits.condensing_hysteresis_kelvin")).isFalse();
    }
}
