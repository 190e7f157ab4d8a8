package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.withinPercentage;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Base64;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

class SiteMonitorTest {
    private static final String ICE = PlateModel.MACHINE;
    /** Of harvests and of the end of a freeze the version before learned something else. */
    private static final Set<Feature> LEARNED_ALIKE = EnumSet.of(Feature.FREEZE, Feature.SPLIT);

    private static PlateModel plate(long seed) {
        return new PlateModel(60, 0.3, true, true, false, seed);
    }

    @Test
    void monitor_healthyMonth_findsNothing() {
        PlateModel plate = plate(1);
        Random day = new Random(2);
        for (int i = 0; i < 30 * 24; i++) {
            plate.ambientCelsius = 24 + 3 * Math.sin(i / 24.0 * 2 * Math.PI) + day.nextGaussian() * 0.3;
            plate.cycles(2);
        }

        Scene scene = new Scene(ICE).readings(plate.readings);

        assertThat(scene.cycles).hasSizeGreaterThan(1300);
        assertThat(scene.findings).isEmpty();
    }

    @Test
    void monitor_splitThatGrowsSlowly_isRaisedEarlyWithADate() {
        PlateModel plate = plate(3);
        for (int i = 0; i < 40 * 40; i++) {
            plate.splitKelvin = 15 + Math.max(0, i - 15 * 40) * 0.3 / 40;
            plate.cycles(1);
        }

        Scene scene = new Scene(ICE).readings(plate.readings);

        List<Finding> rising = scene.of(Condition.RISING_CONDENSING_TEMPERATURE);
        assertThat(rising).isNotEmpty();
        assertThat(rising.get(0).stage()).isEqualTo(Stage.EARLY);
        long began = plate.freezeStarts.get(15 * 40);
        double days = (rising.get(0).at().toEpochMilli() - began) / 86_400_000.0;
        assertThat(days).as("days from onset to finding, %s", rising).isBetween(0.0, 9.0);
        assertThat(rising.get(rising.size() - 1).limit()).isPresent();
        // and care, after 1,500 of the 1,600 cycles
        assertThat(scene.findings.stream().map(Finding::condition).distinct())
                .containsExactly(Condition.RISING_CONDENSING_TEMPERATURE, Condition.AIR_FILTER_DUE);
    }

    @Test
    void monitor_hotWeek_isNoFault() {
        PlateModel plate = plate(4);
        for (int i = 0; i < 30 * 40; i++) {
            plate.ambientCelsius = i > 20 * 40 && i < 27 * 40 ? 38 : 25;
            plate.cycles(1);
        }

        Scene scene = new Scene(ICE).readings(plate.readings);

        assertThat(scene.findings).isEmpty();
    }

    @Test
    void monitor_savedAndRestoredAfterEveryRecord_decidesTheSame() {
        List<Reading> week = eventfulWeek();
        Scene plain = new Scene(ICE).readings(week);

        Scene stopping = new Scene(ICE).stoppingAfterEveryRecord().readings(week);

        assertThat(plain.findings).isNotEmpty();
        assertThat(stopping.cycles).isEqualTo(plain.cycles);
        assertThat(stopping.findings).isEqualTo(plain.findings);
        assertThat(stopping.counts()).isEqualTo(plain.counts());
        assertThat(stopping.largestState()).as("bytes of state").isLessThanOrEqualTo(4096);
    }

    private static List<Reading> eventfulWeek() {
        PlateModel plate = new PlateModel(60, 0.3, true, true, true, 5);
        plate.cycles(100).freeze(400).rest(7200, Phase.OFF).cycles(60).rest(9000, Phase.STOPPED);
        plate.splitKelvin = 22;
        plate.pullDownSeconds = 300;
        plate.cycles(120).rest(4 * 3600, Phase.CLEAN).cycles(40);
        plate.silent(true).cycles(8).silent(false).cycles(20);
        return plate.readings;
    }

    @Test
    void monitor_readingsShuffledWithinTheWindow_findsTheSameCycles() {
        List<Reading> readings = new PlateModel(10, 0.3, true, true, true, 6).cycles(60).readings;
        Random random = new Random(6);
        List<Reading> shuffled = new ArrayList<>(readings);
        var arrival = shuffled.stream()
                .collect(Collectors.toMap(r -> r, r -> r.timeMillis() + random.nextInt(59_000), (a, b) -> a));
        shuffled.sort(Comparator.comparingLong(arrival::get));

        Scene inOrder = new Scene(ICE);
        readings.forEach(inOrder::pack);
        Scene disordered = new Scene(ICE);
        shuffled.forEach(disordered::pack);

        assertThat(disordered.cycles).isEqualTo(inOrder.cycles).hasSizeGreaterThan(55);
        assertThat(disordered.counts()).isEqualTo(inOrder.counts());
    }

    @Test
    void monitor_everythingTwice_countsRepeatsAndChangesNothing() {
        List<Reading> readings = new PlateModel(10, 0.3, true, true, false, 7).cycles(10).readings;
        Scene once = new Scene(ICE);
        readings.forEach(once::pack);

        Scene twice = new Scene(ICE);
        for (Reading reading : readings) {
            twice.pack(reading).pack(reading);
        }

        assertThat(twice.cycles).isEqualTo(once.cycles);
        assertThat(twice.counts()).isEqualTo(new MonitorCounts(readings.size(), readings.size(), 0, 0, 0));
    }

    @Test
    void counts_lateConflictingAndUnregistered_addUpToStored() {
        Scene scene = new Scene(ICE);
        long t = 1_777_800_000_000L;
        Channel plate = Channel.EVAPORATOR_TEMPERATURE;

        scene.pack(Reading.number(ICE, plate, t, 1.0))
                .pack(Reading.number(ICE, plate, t, 2.0))
                .pack(Reading.number(ICE, plate, t, 1.0))
                .pack(Reading.number(ICE, plate, t - 60_000, 1.0))
                .pack(Reading.number(ICE, plate, t - 60_001, 1.0))
                .pack(Reading.number("ice-9", plate, t, 1.0));

        assertThat(scene.counts()).isEqualTo(new MonitorCounts(2, 1, 1, 1, 1));
        assertThat(scene.counts().stored()).isEqualTo(6);
    }

    @Test
    void silence_machineBehindASpeakingGateway_isRaisedAtATimeOfReadingsAndCleared() {
        Scene scene = new Scene(ICE, "ice-2");
        long t = 1_777_800_000_000L;
        scene.pack(Reading.number(ICE, Channel.EVAPORATOR_TEMPERATURE, t, 1));
        for (int minute = 0; minute < 130; minute++) {
            scene.ticks(1).pack(Reading.number("ice-2", Channel.EVAPORATOR_TEMPERATURE, t + minute * 60_000L, 1));
        }
        scene.pack(Reading.number(ICE, Channel.EVAPORATOR_TEMPERATURE, t + 130 * 60_000L, 1));

        assertThat(scene.findings).extracting(Finding::condition).containsOnly(Condition.MACHINE_SILENT);
        assertThat(scene.findings).extracting(Finding::step).containsExactly(Finding.Step.RAISED, Finding.Step.CLEARED);
        assertThat(scene.findings.get(0).at().toEpochMilli()).isEqualTo(t + 120 * 60_000);
    }

    /** Its gateway is fed from elsewhere: off from 23:00 to 6:00 every night, and one morning for good. */
    @Test
    void silence_machineSwitchedOffEveryNight_isNoneAfterSomeNights_untilItStaysOff() {
        Scene scene = new Scene(ICE, "ice-2").stoppingAfterEveryRecord();
        long midnight = 1_777_852_800_000L;
        for (int day = 0; day < 12; day++) {
            for (int minute = 0; minute < 24 * 60; minute += 10) {
                long at = midnight + (day * 1_440L + minute) * 60_000L;
                boolean isOn = minute >= 360 && minute < 1_380 && day < 11;
                scene.ticks(10).pack(Reading.number("ice-2", Channel.EVAPORATOR_TEMPERATURE, at, 1));
                if (isOn) {
                    scene.pack(Reading.number(ICE, Channel.EVAPORATOR_TEMPERATURE, at, 1));
                }
            }
        }

        List<Finding> raised = scene.findings.stream()
                .filter(finding -> finding.step() == Finding.Step.RAISED)
                .toList();
        assertThat(raised).extracting(Finding::condition).containsOnly(Condition.MACHINE_SILENT);
        assertThat(raised).hasSizeBetween(4, 6);
        Finding last = raised.get(raised.size() - 1);
        double hourOfTheLastDay = (last.at().toEpochMilli() - midnight) / 3_600_000.0 - 11 * 24;
        assertThat(hourOfTheLastDay).isBetween(6.0, 8.1);
        assertThat(raised.get(raised.size() - 2).at().toEpochMilli()).isLessThan(midnight + 6 * 86_400_000L);
    }

    /** A gateway that comes back after a break lets one machine be heard before the other: neither was silent. */
    @Test
    void silence_gatewayBackAfterABreak_accusesNoMachine() {
        Scene scene = new Scene(ICE, "ice-2");
        long t = 1_777_800_000_000L;
        scene.pack(
                Reading.number(ICE, Channel.EVAPORATOR_TEMPERATURE, t, 1),
                Reading.number("ice-2", Channel.EVAPORATOR_TEMPERATURE, t, 1));
        scene.ticks(600);
        scene.pack(Reading.number("ice-2", Channel.EVAPORATOR_TEMPERATURE, t + 600 * 60_000L, 1));
        scene.ticks(20);

        assertThat(scene.findings).extracting(Finding::condition).containsOnly(Condition.GATEWAY_SILENT);
    }

    @Test
    void silence_gateway_isOneFindingForAllItsMachines() {
        Scene scene = new Scene(ICE, "ice-2");
        long t = 1_777_800_000_000L;
        scene.pack(
                Reading.number(ICE, Channel.EVAPORATOR_TEMPERATURE, t, 1),
                Reading.number("ice-2", Channel.EVAPORATOR_TEMPERATURE, t, 1));

        scene.ticks(120);

        assertThat(scene.findings).extracting(Finding::condition).containsExactly(Condition.GATEWAY_SILENT);
        assertThat(scene.findings.get(0).gateway()).contains(Scene.GATEWAY);
        assertThat(scene.findings.get(0).machine()).isEmpty();
    }

    @Test
    void silence_noTicks_isNotJudged() {
        Scene scene = new Scene(ICE);
        long t = 1_777_800_000_000L;

        scene.pack(Reading.number(ICE, Channel.EVAPORATOR_TEMPERATURE, t, 1))
                .pack(Reading.number(ICE, Channel.EVAPORATOR_TEMPERATURE, t + 86_400_000, 1));

        assertThat(scene.findings).isEmpty();
    }

    /** An empty bin, a lid that stands open, a box in front of the grille: for some hours [common practice]. */
    @Test
    void freezes_longerOverLunch_areNoFinding_unlessByMuch() {
        assertThat(lunches(1.16).findings).isEmpty();

        Scene byMuch = lunches(1.4);
        assertThat(byMuch.findings).extracting(Finding::condition).contains(Condition.LONG_FREEZE);
    }

    private static Scene lunches(double times) {
        PlateModel plate = plate(6).cycles(15 * 40);
        double usual = plate.freezeSeconds;
        for (int day = 0; day < 4; day++) {
            plate.freezeSeconds = usual * times;
            plate.cycles(9);
            plate.freezeSeconds = usual;
            plate.cycles(45);
        }
        return new Scene(ICE).readings(plate.readings);
    }

    /** Written by the version before: forty cycles of the same drawing. What was learned then is what is gone on with. */
    @Test
    void restore_stateOfTheLayoutBefore_goesOn() throws IOException {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 1).cycles(40);
        Scene scene = new Scene(ICE).readings(plate.readings);
        scene.restart();
        Map<String, byte[]> before = new HashMap<>(scene.states);
        try (InputStream in =
                Objects.requireNonNull(SiteMonitorTest.class.getResourceAsStream("states-of-machine-layout-8.txt"))) {
            new String(in.readAllBytes(), StandardCharsets.UTF_8).lines().forEach(line -> {
                String[] part = line.split(" ", -1);
                before.put(part[0], Base64.getDecoder().decode(part[1]));
            });
        }
        assertThat(Objects.requireNonNull(before.get(ICE))[1]).isEqualTo((byte) 8);
        assertThat(Objects.requireNonNull(scene.states.get(ICE))[1]).isEqualTo((byte) 19);

        int sent = plate.readings.size();
        List<Reading> next = List.copyOf(
                plate.cycles(5).readings.subList(sent, plate.cycles(0).readings.size()));
        Scene restored = new Scene().goesOnFrom(before).readings(next);
        int cycles = scene.cycles.size();
        scene.readings(next);

        assertThat(restored.cycles).hasSize(5);
        assertThat(restored.cycles.get(0).residuals()).hasSizeGreaterThan(2);
        // Learned without a curve over the water, which the water of one day hardly shows.
        assertThat(expectedPullDown(restored.cycles.get(0)))
                .isCloseTo(expectedPullDown(scene.cycles.get(cycles)), withinPercentage(0.1));
        assertThat(restored.cycles)
                .map(SiteMonitorTest::asLearnedThen)
                .isEqualTo(scene.cycles.subList(cycles, scene.cycles.size()).stream()
                        .map(SiteMonitorTest::asLearnedThen)
                        .toList());
    }

    private static double expectedPullDown(Cycle cycle) {
        return cycle.residuals().stream()
                .filter(residual -> residual.feature() == Feature.PULL_DOWN)
                .findFirst()
                .orElseThrow()
                .expected();
    }

    /** To three digits and without its scatter: what was learned before knows nothing of how alike its cycles were read. */
    private static String asLearnedThen(Cycle cycle) {
        return cycle.residuals().stream()
                        .filter(residual -> LEARNED_ALIKE.contains(residual.feature()))
                        .map(residual -> String.format(
                                Locale.ROOT,
                                "%s %.1f of %.3g",
                                residual.feature(),
                                residual.measured(),
                                residual.expected()))
                        .toList()
                + " " + cycle.freezeStart() + cycle.freezeSeconds() + cycle.condensingMeanCelsius();
    }

    @Test
    void restore_stateOfAnUnknownLayout_saysSo() {
        Scene scene = new Scene(ICE);
        scene.restart();
        Objects.requireNonNull(scene.states.get(ICE))[1] = 7;
        assertThatThrownBy(() -> SiteMonitor.restore(Scene.SITE, scene.states))
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining("version 19, found kind M version 7");
    }
}
