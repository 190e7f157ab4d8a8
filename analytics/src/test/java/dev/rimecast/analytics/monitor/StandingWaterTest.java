package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * A tank that stays full. A machine that times its drain level signals tells each length when the signal ends; the one that stops
 * the machine does not end [facts of the trade: the controller stops before the tank overflows].
 */
class StandingWaterTest {
    private static final double LEVEL_SECONDS = 1.8;

    private final PlateModel plate = new PlateModel(30, 0.2, true, true, true, 3);
    private final List<Reading> drain = new ArrayList<>();

    private void cycles(int count) {
        for (int i = 0; i < count; i++) {
            plate.cycles(1);
            rises();
            drain.add(Reading.number(PlateModel.MACHINE, Channel.DRAIN_LEVEL, plate.now() + 1_800, 0));
            drain.add(Reading.number(PlateModel.MACHINE, Channel.DRAIN_LEVEL_TIME, plate.now() + 1_800, LEVEL_SECONDS));
        }
    }

    private void rises() {
        drain.add(Reading.number(PlateModel.MACHINE, Channel.DRAIN_LEVEL, plate.now(), 1));
    }

    private Scene watch() {
        List<Reading> all = new ArrayList<>(plate.readings);
        all.addAll(drain);
        all.sort(Comparator.comparingLong(Reading::timeMillis));
        return new Scene(PlateModel.MACHINE).stoppingAfterEveryRecord().readings(all);
    }

    @Test
    void signalThatDoesNotEnd_isSaidWithinMinutes_andIsTheReasonOfTheStop() {
        cycles(30);
        plate.freeze(120);
        long began = plate.now();
        rises();
        plate.rest(1_200, Phase.STOPPED);
        Scene scene = watch();

        Finding found = scene.of(Condition.DRAIN_PUMP_OVERRUN).get(0);
        assertThat(found.at().toEpochMilli() - began).isBetween(60_000L, 120_000L);
        assertThat(found.summary()).contains("the tank stays full");
        assertThat(found.probableCause().orElseThrow().cause()).isEqualTo(Cause.DRAIN_PUMP_FAILED);
        Finding stopped = scene.of(Condition.STOPPED_BY_PROTECTION).get(0);
        assertThat(stopped.probableCause().orElseThrow().cause()).isEqualTo(Cause.DRAIN_PUMP_FAILED);
        assertThat(stopped.probableCause().orElseThrow().evidenceFor()).isNotEmpty();
    }

    /** Its end may have been lost with what else was. */
    @Test
    void signalThatRoseBeforeABreak_saysNothing() {
        cycles(30);
        plate.freeze(120);
        rises();
        plate.silent(true).rest(3_600, Phase.IDLE).silent(false).rest(1_200, Phase.IDLE);

        assertThat(watch().of(Condition.DRAIN_PUMP_OVERRUN)).isEmpty();
    }

    /** A late row does not stand where it belongs: the run that was timed shows that the tank was emptied. */
    @Test
    void signalWhoseEndIsLost_butWhosePumpRunEnded_saysNothing() {
        cycles(30);
        plate.cycles(1);
        rises();
        drain.add(Reading.number(PlateModel.MACHINE, Channel.DRAIN_RUN_TIME, plate.now() + 4_600, 4.6));
        cycles(3);

        assertThat(watch().findings).isEmpty();
    }

    /** A controller that gives up stops its pump with the tank still full. */
    @Test
    void signalThatDoesNotEnd_thoughThePumpRanToItsLimit_isSaid() {
        cycles(30);
        plate.freeze(120);
        rises();
        drain.add(Reading.number(PlateModel.MACHINE, Channel.DRAIN_RUN_TIME, plate.now() + 6_100, 6.1));
        plate.rest(1_200, Phase.STOPPED);

        assertThat(watch().of(Condition.DRAIN_PUMP_OVERRUN).get(0).summary()).contains("the tank stays full");
    }

    /** Without a length of the run: a controller would have stopped a machine whose tank stays full. */
    @Test
    void signalWhoseEndIsLost_ofAMachineThatGoesOn_saysNothing() {
        cycles(30);
        plate.cycles(1);
        rises();
        plate.freeze(1_700).rest(600, Phase.IDLE);
        cycles(2);

        assertThat(watch().of(Condition.DRAIN_PUMP_OVERRUN)).isEmpty();
    }

    @Test
    void signalThatIsSaidAgainAndAgain_isOfAFullTank_thoughTheMachineGoesOn() {
        cycles(30);
        plate.cycles(1);
        long began = plate.now();
        rises();
        for (int i = 0; i < 10; i++) {
            plate.freeze(30);
            rises();
        }

        Finding found = watch().of(Condition.DRAIN_PUMP_OVERRUN).get(0);
        assertThat(found.at().toEpochMilli() - began).isBetween(60_000L, 120_000L);
    }

    @Test
    void signalsThatEndAsTheyShould_sayNothing() {
        cycles(40);

        assertThat(watch().findings).isEmpty();
    }
}
