package dev.rimecast.analytics.making;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.making.Current.Power;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** A machine that draws 5 A when it makes ice, 1 A with its pump and fan alone, and 0.05 A when it waits [common practice]. */
class CurrentTest {
    private static final double RUNS = 5;
    private static final double PUMP_AND_FAN = 1;
    private static final double WAITS = 0.05;

    private Current current = new Current();
    private long now = 1_777_800_000_000L;
    private int said;

    @BeforeEach
    void makesIce() {
        draws(RUNS, 20);
        current.cycle();
        draws(WAITS, 5);
    }

    private void draws(double ampere, int minutes) {
        for (int i = 0; i < minutes; i++) {
            now += 60_000;
            said += current.read(ampere, now) ? 1 : 0;
        }
    }

    private void tries(int count) {
        for (int i = 0; i < count; i++) {
            draws(PUMP_AND_FAN, 12);
            draws(WAITS, 5);
        }
    }

    @Test
    void triesAgainAndAgain_areACompressorThatDoesNotStart_saidWithEachFromTheThirdOn() {
        tries(2);
        assertThat(current.isNotStarting()).isFalse();
        assertThat(said).isZero();

        tries(3);

        assertThat(current.isNotStarting()).isTrue();
        assertThat(said).isEqualTo(3);
        assertThat(current.ampere()).isCloseTo(WAITS, within(1e-6));
        assertThat(current.runningAmpere()).isEqualTo(RUNS);
    }

    @Test
    void cleaningWithThePumpOnly_isOneTry() {
        draws(PUMP_AND_FAN, 90);
        assertThat(current.isNotStarting()).isFalse();
        assertThat(said).isZero();
    }

    @Test
    void startsOfAFewMinutes_areNoTries() {
        for (int i = 0; i < 6; i++) {
            draws(PUMP_AND_FAN, 7);
            draws(WAITS, 5);
        }
        assertThat(current.isNotStarting()).isFalse();
    }

    @Test
    void drawOfAMachineThatWaits_isNoTry() {
        for (int i = 0; i < 6; i++) {
            draws(WAITS, 30);
            draws(0, 5);
        }
        assertThat(current.isNotStarting()).isFalse();
        assertThat(said).isZero();
    }

    @Test
    void compressorThatRunsInBetween_endsIt() {
        tries(2);
        draws(RUNS, 2);
        tries(2);
        assertThat(current.isNotStarting()).isFalse();
        tries(1);
        assertThat(current.isNotStarting()).isTrue();
    }

    @Test
    void triesFarApart_areForgotten() {
        tries(2);
        draws(WAITS, 7 * 60);
        tries(2);
        assertThat(current.isNotStarting()).isFalse();
    }

    @Test
    void cycleThatEnds_endsIt() {
        tries(3);
        current.cycle();
        assertThat(current.isNotStarting()).isFalse();
    }

    /** A link that comes and goes while one pump runs for long makes no tries of it. */
    @Test
    void gaps_makeNoNewTries() {
        for (int i = 0; i < 6; i++) {
            draws(PUMP_AND_FAN, 12);
            now += 20 * 60_000L;
        }
        assertThat(current.isNotStarting()).isFalse();
        assertThat(said).isZero();
    }

    @Test
    void timeOfAGap_isNoPartOfATry() {
        for (int i = 0; i < 6; i++) {
            draws(PUMP_AND_FAN, 4);
            now += 20 * 60_000L;
            draws(PUMP_AND_FAN, 4);
            draws(WAITS, 5);
        }
        assertThat(current.isNotStarting()).isFalse();
    }

    /** A sensor that has never shown any current says nothing. */
    @Test
    void machineWithoutAnyCurrent_isNotJudged() {
        current = new Current();
        for (int i = 0; i < 6; i++) {
            draws(0, 20);
            current.cycle();
            draws(0, 20);
            now += 20 * 60_000L;
        }
        assertThat(said).isZero();
        assertThat(current.isNotStarting()).isFalse();
        assertThat(current.power(now)).isEqualTo(Power.UNKNOWN);
    }

    @Test
    void power_isByWhatItDrewLast_whileThatIsFresh() {
        assertThat(current.power(now)).isEqualTo(Power.ON);
        draws(0, 1);
        assertThat(current.power(now)).isEqualTo(Power.OFF);
        assertThat(current.power(now + 16 * 60_000L)).isEqualTo(Power.UNKNOWN);
        assertThat(new Current().power(now)).isEqualTo(Power.UNKNOWN);
    }

    @Test
    void savedAndRestoredAtAnyTime_goesOnTheSame() {
        for (int stop = 0; stop < 60; stop += 7) {
            current = new Current();
            said = 0;
            makesIce();
            for (int minute = 0; minute < 60; minute++) {
                if (minute == stop) {
                    StateWriter out = new StateWriter();
                    current.save(out);
                    current = Current.restore(new StateReader(out.toBytes()));
                }
                draws(minute % 17 < 12 ? PUMP_AND_FAN : WAITS, 1);
            }
            assertThat(said).as("restored at minute %d", stop).isEqualTo(2);
            assertThat(current.isNotStarting()).isTrue();
            assertThat(current.runningAmpere()).isEqualTo(RUNS);
        }
    }
}
