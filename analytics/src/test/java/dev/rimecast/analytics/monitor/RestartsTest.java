package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class RestartsTest {
    private static PlateModel plate(long seed) {
        return new PlateModel(60, 0.2, true, true, false, seed).cycles(20);
    }

    /** Switched off for five minutes and on again in the middle of a freeze, every two hours. */
    private static PlateModel resets(PlateModel plate, int times) {
        for (int i = 0; i < times; i++) {
            plate.freeze(600).rest(300, Phase.OFF).rest(300, Phase.WAIT).cycles(4);
        }
        return plate;
    }

    @Test
    void machine_switchedOffAndOnThreeTimesADay_isRaisedOnceAndClearedDaysLater() {
        Scene scene = new Scene(PlateModel.MACHINE).readings(resets(plate(1), 5).cycles(300).readings);

        List<Finding> found = scene.of(Condition.REPEATED_RESTARTS);
        assertThat(found).extracting(Finding::step).containsExactly(Step.RAISED, Step.CLEARED);
        assertThat(found.get(0).summary()).contains("3 times");
    }

    /** The freeze is told as it begins, and the row that was read just before comes after it. */
    @Test
    void rowsThatAreAMomentOlderThanTheTurn_areNoResets() {
        PlateModel plate = plate(7).cycles(100);
        List<Reading> all = new ArrayList<>(plate.readings);
        for (int i = 0; i < plate.freezeStarts.size(); i += 6) {
            long start = plate.freezeStarts.get(i);
            all.add(Reading.number(PlateModel.MACHINE, Channel.PHASE, start + 100, Phase.FREEZE.ordinal()));
            all.add(Reading.number(PlateModel.MACHINE, Channel.PHASE, start + 400, Phase.FILL.ordinal()));
            all.add(Reading.number(PlateModel.MACHINE, Channel.PHASE, start + 20_000, Phase.FREEZE.ordinal()));
        }
        all.sort(Comparator.comparingLong(Reading::timeMillis));

        assertThat(new Scene(PlateModel.MACHINE).readings(all).of(Condition.REPEATED_RESTARTS))
                .isEmpty();
    }

    @Test
    void machine_switchedOffAndOnTwice_isNoFinding() {
        Scene scene = new Scene(PlateModel.MACHINE).readings(resets(plate(2), 2).cycles(60).readings);

        assertThat(scene.of(Condition.REPEATED_RESTARTS)).isEmpty();
    }

    @Test
    void powerCuts_ofTheWholeSite_areNoResets() {
        List<Reading> both = new ArrayList<>(resets(plate(3), 5).cycles(60).readings);
        List<Reading> others = both.stream()
                .map(r -> new Reading("ice-2", r.channel(), r.timeMillis() + 5000, r.value(), r.text()))
                .toList();
        both.addAll(others);
        both.sort(Comparator.comparingLong(Reading::timeMillis));

        Scene scene = new Scene(PlateModel.MACHINE, "ice-2").readings(both);

        assertThat(scene.of(Condition.REPEATED_RESTARTS)).isEmpty();
    }

    @Test
    void nights_cleaningsAndFullBins_areNoResets() {
        PlateModel plate = plate(4);
        for (int day = 0; day < 5; day++) {
            plate.cycles(8).rest(1800, Phase.IDLE).cycles(8).rest(2700, Phase.CLEAN);
            plate.rest(300, Phase.FILL).cycles(8).rest(7 * 3600, Phase.OFF).rest(300, Phase.WAIT);
        }

        Scene scene = new Scene(PlateModel.MACHINE).readings(plate.readings);

        assertThat(scene.of(Condition.REPEATED_RESTARTS)).isEmpty();
    }

    /** Some machines wait before they try again by themselves. */
    @Test
    void machine_thatTriesAgainByWaiting_isNotResetByAnybody() {
        PlateModel plate = plate(5);
        for (int i = 0; i < 6; i++) {
            plate.freeze(600)
                    .rest(1800, Phase.STOPPED)
                    .rest(180, Phase.WAIT)
                    .rest(60, Phase.FILL)
                    .cycles(2);
        }

        Scene scene = new Scene(PlateModel.MACHINE).readings(plate.readings);

        assertThat(scene.of(Condition.REPEATED_RESTARTS)).isEmpty();
        assertThat(scene.of(Condition.STOPPED_BY_PROTECTION)).isNotEmpty();
    }

    @Test
    void restarts_afterAVisit_areTheEngineers() {
        PlateModel plate = plate(6);
        Scene scene = new Scene(PlateModel.MACHINE).readings(List.copyOf(plate.readings));
        int before = plate.readings.size();
        scene.take(new SiteRecord.Happened(
                Instant.ofEpochMilli(plate.now()),
                Optional.of(PlateModel.MACHINE),
                EventKind.VISIT,
                "nothing-found",
                "engineer",
                ""));
        for (int i = 0; i < 4; i++) {
            plate.freeze(600).rest(300, Phase.OFF).rest(300, Phase.WAIT).cycles(1);
        }
        plate.cycles(20);

        scene.readings(plate.readings.subList(before, plate.readings.size()));

        assertThat(scene.of(Condition.REPEATED_RESTARTS)).isEmpty();
    }
}
