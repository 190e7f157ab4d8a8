package dev.rimecast.analytics.making;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Test;

class CooledPlateTest {
    private static final long HOUR = 3_600_000;

    private CooledPlate plate = new CooledPlate();
    private long now = 1_777_800_000_000L;

    private void reads(int minutes, IntToDoubleFunction celsius) {
        for (int minute = 0; minute < minutes; minute++) {
            now += 60_000;
            plate.see(celsius.applyAsDouble(minute), now);
        }
    }

    /** Colder and colder from -6 °C on, to -26. */
    private static double cooled(int minute) {
        return -6 - 20 * (1 - Math.exp(-minute / 30.0));
    }

    @Test
    void plateThatStaysFrozenAndMoves_isCooled_forAsLongAsItIsFrozen() {
        reads(10, minute -> 4);
        assertThat(plate.frozenMillis()).isZero();
        reads(181, CooledPlateTest::cooled);
        assertThat(plate.isCooled()).isTrue();
        assertThat(plate.frozenMillis()).isEqualTo(3 * HOUR);
    }

    @Test
    void sensorThatDoesNotMove_isNotCooled() {
        reads(600, minute -> -12 + minute % 3 * 0.1);
        assertThat(plate.isCooled()).isFalse();
    }

    @Test
    void plateThatIsThawed_beginsAnew() {
        reads(100, CooledPlateTest::cooled);
        reads(1, minute -> 0.5);
        assertThat(plate.isCooled()).isFalse();
        assertThat(plate.frozenMillis()).isZero();
        reads(31, CooledPlateTest::cooled);
        assertThat(plate.frozenMillis()).isEqualTo(HOUR / 2);
    }

    @Test
    void plateWithALittleIceOnIt_isNotFrozen() {
        reads(300, minute -> -3 + 1.9 * Math.sin(minute));
        assertThat(plate.frozenMillis()).isZero();
    }

    @Test
    void gap_beginsAnew() {
        reads(100, CooledPlateTest::cooled);
        now += HOUR;
        reads(1, minute -> -20);
        assertThat(plate.frozenMillis()).isZero();
        assertThat(plate.isCooled()).isFalse();
    }

    /** A harvest of four minutes falls between two readings that are five minutes apart, for hours where cycles are a multiple of that. */
    @Test
    void harvestsBetweenReadingsFarApart_areNoFrozenPlate() {
        for (int minute = 0; minute < 300; minute += 5) {
            now += 5 * 60_000;
            plate.see(cooled(minute % 25), now);
        }
        assertThat(plate.isCooled()).isTrue();
        assertThat(plate.frozenMillis()).isLessThan(MissingIce.FROZEN_MILLIS);
    }

    @Test
    void plateThatIsReadSeldom_isFoundLater() {
        for (int minute = 0; minute < 12 * 60; minute += 5) {
            now += 5 * 60_000;
            plate.see(cooled(minute), now);
        }
        assertThat(plate.frozenMillis()).isGreaterThan(MissingIce.FROZEN_MILLIS);
    }

    @Test
    void savedAndRestoredWithEveryReading_isTheSame() {
        CooledPlate other = new CooledPlate();
        for (int minute = 0; minute < 200; minute++) {
            now += 60_000;
            double celsius = minute % 90 < 10 ? 3 : cooled(minute % 90);
            plate.see(celsius, now);
            other.see(celsius, now);
            StateWriter out = new StateWriter();
            other.save(out);
            other = CooledPlate.restore(new StateReader(out.toBytes()));
            assertThat(other.frozenMillis()).isEqualTo(plate.frozenMillis());
            assertThat(other.isCooled()).isEqualTo(plate.isCooled());
        }
    }
}
