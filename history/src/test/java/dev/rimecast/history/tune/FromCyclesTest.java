package dev.rimecast.history.tune;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyForm;
import dev.rimecast.history.ToyLog;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.LogRun;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Registered;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Of a machine that freezes and harvests by turns for two days and is too hot for half an hour; {@code CyclesAgainTest} has fleets. */
class FromCyclesTest {
    private static final int MINUTES = 2 * 1440;
    private static final int FREEZE = 20;
    private static final int CYCLE = 24;

    @TempDir
    Path root;

    private void write() {
        ToyLog log = new ToyLog();
        log.site(new Registered(ToyLog.START, Machine.basic("ice-1", ToyLog.SITE, "gw-1")));
        for (int minute = 0; minute < MINUTES; minute++) {
            int of = minute % CYCLE;
            boolean isHot = minute >= 1500 && minute < 1530;
            if (minute == 2000) {
                log.event(minute, "ice-1", EventKind.VISIT, "nothing-found");
            }
            long millis = ToyLog.at(minute).toEpochMilli();
            log.pack(
                            ToyLog.temperature(minute, "ice-1", of < FREEZE ? 15 - 1.6 * of : 10),
                            Reading.number("ice-1", Channel.CONDENSER_TEMPERATURE, millis, isHot ? 70 : 41.25),
                            Reading.phase("ice-1", millis, of < FREEZE ? Phase.FREEZE : Phase.HARVEST))
                    .tick(minute);
        }
        HistoryDirectory directory = new HistoryDirectory(root.resolve("history"));
        HistoryWriter.open(directory, new Duck.Limits(128, 1, root.resolve("spill")), new Views(directory)::script)
                .add(log.records(), log.positions(), List.of());
    }

    @Test
    void variants_findFromCyclesWhatTheyFindFromReadings() throws Exception {
        write();
        List<Variant> variants =
                Variant.of(Policy.standard(), List.of(new Sweep("expectation.usable_cycles", List.of(10.0, 40.0))));
        Path directory = Files.createDirectories(root.resolve("tapes"));
        try (History past = History.open(root.resolve("history"), 128, false);
                Tapes tapes = new Tapes(directory)) {
            Decided fromReadings =
                    LogRun.run(past, variants.stream().map(Variant::trial).toList(), 1, (done, all) -> {});
            LogRun.Trial asItIs =
                    new LogRun.Trial("as it is", Optional.of(variants.get(0).policy()), Optional.of(tapes::of));
            Decided base = LogRun.run(past, List.of(asItIs), 1, (done, all) -> {});
            tapes.end();
            assertThat(tapes.bytes()).isPositive();

            Decided fromCycles = FromCycles.decide(base, variants, tapes, 2);

            assertThat(fromCycles.cycles()).isGreaterThan(100).isEqualTo(fromReadings.cycles());
            assertThat(fromCycles.findings()).isEqualTo(fromReadings.findings());
            assertThat(fromCycles.findings().get(2))
                    .as("too hot, by the policy that was tried")
                    .isNotEmpty()
                    .extracting(Finding::policyVersion)
                    .contains(variants.get(2).policy().version());
        }
        assertThat(directory).as("tapes are gone").isEmptyDirectory();
    }

    @ParameterizedTest
    @CsvSource({
        "change.false_alarms_per_machine_year, true",
        "features.split.material, true",
        "expectation.usable_cycles, true",
        "forecast.high_days, true",
        "expectation.rest_minutes, false",
        "limits.condensing_celsius, false",
        "making.habit_factor, false",
        "care.cleaning_days, false",
        "none.such, false"
    })
    void whichNumbersActOnCyclesOnly(String path, boolean isOfCycles) {
        assertThat(FromCycles.areOfCycles(List.of(path))).isEqualTo(isOfCycles);
        assertThat(FromCycles.areOfCycles(List.of("change.clear_hours", path))).isEqualTo(isOfCycles);
    }

    @Test
    void whatTheReportSays_namesEverySection() {
        PolicyForm.standard().entries().stream()
                .filter(entry -> FromCycles.areOfCycles(List.of(entry.path())))
                .map(entry -> entry.path().substring(0, entry.path().indexOf('.')))
                .distinct()
                .forEach(section -> assertThat(FromCycles.IN_WORDS).contains(section));
    }
}
