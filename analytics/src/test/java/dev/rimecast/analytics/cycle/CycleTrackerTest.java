package dev.rimecast.analytics.cycle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The truth of these tests is the drawing's own: {@link PlateModel} knows when it turned. */
class CycleTrackerTest {
    private static final long REST = 900_000;

    private static List<RawCycle> track(List<Reading> readings) {
        Recorder recorder = new Recorder();
        CycleTracker tracker = new CycleTracker(REST);
        readings.forEach(r -> tracker.accept(r.channel(), r.timeMillis(), r.value(), recorder));
        return recorder.cycles;
    }

    /** What the machine timed is exact; where nothing but samples is there, each turn may be wrong by half a step or so. */
    @ParameterizedTest
    @CsvSource({
        "10, 0, true, true, false", "10, 0.3, true, true, false", "60, 0.3, true, true, false",
        "10, 0, true, false, false", "10, 0.3, true, false, false", "60, 0, true, false, false",
        "60, 0.3, true, false, false", "10, 0.3, true, false, true", "60, 0.3, true, true, true",
        "10, 0, false, false, true"
    })
    void tracker_regularCycles_findsEveryOneWithItsTimes(
            int step, double noise, boolean temperatures, boolean phase, boolean lengths) {
        PlateModel plate = new PlateModel(step, noise, temperatures, phase, lengths, 7).cycles(21);

        List<RawCycle> cycles = track(plate.readings);

        int first = phase || lengths ? 0 : 1;
        List<RawCycle> judged = cycles.subList(first, cycles.size());
        assertThat(judged).hasSizeBetween(18, 20).allMatch(RawCycle::complete);
        double tolerance = lengths ? 1.01 : step * 1.25 + 12;
        for (RawCycle cycle : judged) {
            assertThat(plate.freezeStarts)
                    .anySatisfy(start ->
                            assertThat((double) cycle.freezeStartMillis()).isCloseTo(start, within(tolerance * 1000)));
            assertThat(cycle.freezeSeconds().orElseThrow()).isCloseTo(1230, within(tolerance));
            assertThat(cycle.pullDownSeconds().orElseThrow()).isCloseTo(160, within(tolerance));
            assertThat(cycle.harvestSeconds().orElseThrow()).isCloseTo(200, within(tolerance));
            if (temperatures) {
                assertThat(cycle.condensingEndCelsius().orElseThrow()).isCloseTo(40, within(1.0));
                assertThat(cycle.evaporatorEndCelsius().orElseThrow()).isCloseTo(-17.9, within(1.0));
                assertThat(cycle.ambientCelsius().orElseThrow()).isCloseTo(25, within(0.3));
            }
        }
    }

    /** A turn is seen one reading late, and of a harvest of 200 s there are two: the warmer one is the harvest's. */
    @Test
    void tracker_platesReadEachTwoMinutes_areAsWarmInTheHarvestAsTheyWereRead() {
        PlateModel plate = new PlateModel(120, 0, true, false, false, 11).cycles(30);
        plate.harvestSeconds = 240;

        List<RawCycle> whole =
                track(plate.readings).stream().filter(RawCycle::complete).toList();

        assertThat(whole).hasSizeGreaterThan(20).allSatisfy(cycle -> {
            long from = cycle.freezeStartMillis()
                    + Math.round(1000 * cycle.freezeSeconds().orElseThrow());
            double warmest = plate.readings.stream()
                    .filter(reading -> reading.channel() == Channel.EVAPORATOR_TEMPERATURE)
                    .filter(reading -> reading.timeMillis() >= from && reading.timeMillis() <= cycle.endMillis())
                    .mapToDouble(Reading::value)
                    .max()
                    .orElseThrow();
            assertThat(cycle.harvestWarmestCelsius().orElseThrow()).isGreaterThanOrEqualTo(warmest - 0.01);
        });
    }

    /** How far apart the readings were between which a cycle turned; what the machine timed has no such doubt. */
    @ParameterizedTest
    @CsvSource({"60, true, false, 60", "10, true, false, 10", "60, false, false, 60", "10, true, true, 0"})
    void tracker_saysHowFarApartItsReadingsWere(int step, boolean phase, boolean lengths, int apart) {
        PlateModel plate = new PlateModel(step, 0.2, true, phase, lengths, 13).cycles(8);

        assertThat(track(plate.readings).stream().filter(RawCycle::complete))
                .hasSizeGreaterThan(4)
                .allSatisfy(cycle -> assertThat(cycle.apartSeconds()).isEqualTo(apart));
    }

    @ParameterizedTest
    @CsvSource({"10, true", "60, true", "10, false", "60, false"})
    void tracker_binFullBetweenCycles_restsAndGoesOn(int step, boolean phase) {
        PlateModel plate = new PlateModel(step, 0.3, true, phase, false, 3)
                .cycles(4)
                .rest(3600, Phase.IDLE)
                .cycles(4);

        List<RawCycle> cycles = track(plate.readings);

        assertThat(cycles.stream().filter(RawCycle::complete)).hasSizeBetween(6, 7);
        assertThat(cycles.stream().map(RawCycle::cyclesSinceRest)).containsSubsequence(1, 2, 0, 1, 2);
        assertThat(cycles.subList(1, cycles.size()))
                .allSatisfy(c -> assertThat(c.freezeSeconds().orElseThrow()).isCloseTo(1230, within(step + 40.0)));
    }

    @ParameterizedTest
    @CsvSource({"10, true", "60, true", "10, false", "60, false"})
    void tracker_powerCutInFreeze_saysIncomplete(int step, boolean phase) {
        PlateModel plate = new PlateModel(step, 0.2, true, phase, false, 5)
                .cycles(3)
                .freeze(700)
                .rest(5400, Phase.OFF)
                .cycles(4);

        List<RawCycle> cycles = track(plate.readings);

        List<RawCycle> incomplete = cycles.stream().filter(c -> !c.complete()).toList();
        assertThat(incomplete).hasSize(1);
        assertThat(incomplete.get(0).harvestSeconds()).isEmpty();
        assertThat(cycles.stream().filter(RawCycle::complete)).hasSizeBetween(5, 6);
        RawCycle after = cycles.get(cycles.indexOf(incomplete.get(0)) + 1);
        assertThat(after.cyclesSinceRest()).isZero();
    }

    @ParameterizedTest
    @CsvSource({"true, false, false", "false, false, false", "true, true, true", "false, true, true"})
    void tracker_gapInFreeze_isIncompleteUnlessTheMachineTimedIt(boolean phase, boolean lengths, boolean complete) {
        PlateModel plate = new PlateModel(10, 0.2, true, phase, lengths, 11).cycles(3);
        PlateModel withGap = gapInFourthFreeze(plate).cycles(3);

        List<RawCycle> cycles = track(withGap.readings);

        RawCycle fourth = cycles.stream()
                .filter(c -> Math.abs(c.freezeStartMillis() - withGap.freezeStarts.get(3)) < 30_000)
                .findFirst()
                .orElseThrow();
        assertThat(fourth.complete()).isEqualTo(complete);
    }

    private static PlateModel gapInFourthFreeze(PlateModel plate) {
        int before = plate.readings.size();
        plate.cycles(1);
        long start = plate.freezeStarts.get(3);
        for (int i = plate.readings.size() - 1; i >= before; i--) {
            long into = plate.readings.get(i).timeMillis() - start;
            if (into > 300_000 && into < 800_000) {
                plate.readings.remove(i);
            }
        }
        return plate;
    }

    @Test
    void tracker_restoredAfterEveryReading_decidesTheSame() {
        List<Reading> readings = new PlateModel(10, 0.3, true, false, true, 13)
                .cycles(3)
                .freeze(500)
                .rest(4000, Phase.OFF)
                .cycles(3)
                .readings;
        Recorder restored = new Recorder();
        CycleTracker tracker = new CycleTracker(REST);

        for (Reading r : readings) {
            tracker.accept(r.channel(), r.timeMillis(), r.value(), restored);
            StateWriter out = new StateWriter();
            tracker.save(out);
            tracker = CycleTracker.restore(new StateReader(out.toBytes()), REST);
        }

        assertThat(restored.cycles).isNotEmpty().isEqualTo(track(readings));
    }

    private static final class Recorder implements CycleTracker.Sink {
        final List<RawCycle> cycles = new ArrayList<>();

        @Override
        public void cycle(RawCycle cycle) {
            cycles.add(cycle);
        }

        @Override
        public void drainLevel(long endMillis, double seconds) {}
    }

    /** What reached 0 °C after the gap is of another freeze than what began before it: that is no slow pull-down. */
    @Test
    void gapFromOneFreezeToTheNext_isNoLongPullDown() {
        PlateModel plate = new PlateModel(60, 0, true, false, true, 3).cycles(12);
        long from = plate.freezeStarts.get(8) + 155_000;
        long to = plate.freezeStarts.get(10) + 30_000;
        List<Reading> heard = plate.readings.stream()
                .filter(r -> r.timeMillis() < from || r.timeMillis() > to)
                .toList();

        List<RawCycle> cycles = track(heard);

        assertThat(cycles).hasSizeGreaterThan(8);
        assertThat(cycles)
                .allSatisfy(
                        cycle -> assertThat(cycle.pullDownSeconds().orElse(160)).isLessThan(300));
    }
}
