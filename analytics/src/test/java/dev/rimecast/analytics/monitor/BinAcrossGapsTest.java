package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.machine.Phase;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * A bin sensor that is stuck shows against what was made; a gap of the gateway, or a power cut, in between neither hides that nor makes it up.
 * How much a bin can take is its row's; all else is common practice.
 */
class BinAcrossGapsTest {
    private static final double HOUR = 3600;

    /** Days on each of which the bin is full at noon and at night. */
    private static PlateModel routine(int days) {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 1);
        for (int day = 0; day < days; day++) {
            plate.cycles(20).rest(HOUR / 2, Phase.IDLE).cycles(20).rest(8 * HOUR, Phase.IDLE);
        }
        return plate;
    }

    private static List<Finding> said(PlateModel plate) {
        return new Scene(PlateModel.MACHINE).readings(plate.readings).of(Condition.BIN_FULL_IMPLAUSIBLE);
    }

    private static double hours(Finding finding, long since) {
        return (finding.at().toEpochMilli() - since) / 3_600_000.0;
    }

    @Test
    void neverFull_isSaidAfterAGapToo() {
        PlateModel plate =
                routine(12).cycles(10).silent(true).cycles(6).silent(false).cycles(600);

        assertThat(said(plate)).extracting(Finding::step).contains(Step.RAISED);
    }

    @Test
    void neverFull_onceSaid_isNotOverWithAGap() {
        PlateModel plate =
                routine(12).cycles(600).silent(true).cycles(6).silent(false).cycles(20);

        assertThat(said(plate)).isNotEmpty().extracting(Finding::step).doesNotContain(Step.CLEARED);
    }

    /** The gateway is silent each night, and the bin is full just then. */
    @Test
    void fullOnlyWhileNothingIsHeard_isNoFinding() {
        PlateModel plate = routine(12);
        for (int day = 0; day < 25; day++) {
            plate.cycles(40).silent(true).rest(8 * HOUR, Phase.IDLE).silent(false);
        }

        assertThat(said(plate)).isEmpty();
    }

    @Test
    void fullForTooLong_isSaidThroughAShortGap() {
        PlateModel plate = routine(12).cycles(10);
        long began = plate.now();
        plate.rest(8 * HOUR, Phase.IDLE)
                .silent(true)
                .rest(HOUR, Phase.IDLE)
                .silent(false)
                .rest(9 * HOUR, Phase.IDLE);

        assertThat(said(plate))
                .isNotEmpty()
                .first()
                .satisfies(found -> assertThat(hours(found, began)).isBetween(13.0, 17.0));
    }

    /** Behind six hours of silence much may have been made and taken. */
    @Test
    void fullOnBothSidesOfALongGap_countsFromItsEnd() {
        PlateModel plate = routine(12).cycles(10);
        plate.rest(8 * HOUR, Phase.IDLE)
                .silent(true)
                .rest(6 * HOUR, Phase.IDLE)
                .silent(false)
                .rest(9 * HOUR, Phase.IDLE);

        assertThat(said(plate)).isEmpty();
    }
}
