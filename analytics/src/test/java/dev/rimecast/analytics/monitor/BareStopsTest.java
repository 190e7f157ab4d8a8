package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Machines that don't say what they do, and stop: what plate, condenser and current tell of it. */
class BareStopsTest {
    private static final double HOUR = 3600;
    private static final double RUNS_AMPERE = 5;
    /** After so many a stop is over. */
    private static final int GOOD_CYCLES = 12;
    /** A valve or a fan that holds the head pressure keeps a condenser as still as one at rest. */
    private static final double HELD_CELSIUS = 40;

    private final PlateModel plate = new PlateModel(60, 0.2, true, false, false, 6);
    private final List<Reading> currents = new ArrayList<>();

    private void draws(long from, double ampere) {
        for (long at = from; at < plate.now(); at += 60_000) {
            currents.add(Reading.number(PlateModel.MACHINE, Channel.SUPPLY_CURRENT, at, ampere));
        }
    }

    private void cycles(int count) {
        for (int i = 0; i < count; i++) {
            long began = plate.now();
            plate.cycles(1);
            draws(began, RUNS_AMPERE);
        }
    }

    private void rests(double seconds, double ampere) {
        long began = plate.now();
        plate.rest(seconds, Phase.OFF);
        draws(began, ampere);
    }

    private Scene watch(Scene scene) {
        List<Reading> all = new ArrayList<>(plate.readings);
        all.addAll(currents);
        all.sort(Comparator.comparingLong(Reading::timeMillis));
        return scene.readings(all);
    }

    private Scene watch() {
        return watch(new Scene(PlateModel.MACHINE));
    }

    private static double hours(Finding finding, long since) {
        return (finding.at().toEpochMilli() - since) / 3_600_000.0;
    }

    @Test
    void plateThatIsCooledOnAndOn_isAHarvestThatDoesNotCome() {
        plate.hasAmbientSensor = false;
        cycles(60);
        long began = plate.now();
        plate.freeze(4 * HOUR);
        plate.readings.replaceAll(r -> r.channel() == Channel.CONDENSER_TEMPERATURE && r.timeMillis() >= began
                ? Reading.number(
                        r.machine(), r.channel(), r.timeMillis(), HELD_CELSIUS + r.timeMillis() / 60_000 % 3 * 0.1)
                : r);
        Scene scene = watch();

        Finding found = scene.of(Condition.NOT_MAKING_ICE).get(0);
        assertThat(hours(found, began)).isBetween(1.66, 1.9);
        assertThat(found.summary()).contains("no harvest frees it");
        assertThat(found.probableCause().orElseThrow().cause()).isEqualTo(Cause.HOT_GAS_VALVE_NOT_OPENING);
        assertThat(scene.of(Condition.NOT_MAKING_ICE)).hasSize(1);
        assertThat(watch(new Scene(PlateModel.MACHINE).stoppingAfterEveryRecord()).findings)
                .isEqualTo(scene.findings);
    }

    @Test
    void freezeOfAnHourAndAHalf_isNone() {
        cycles(60);
        plate.freeze(1.5 * HOUR).harvest();
        cycles(5);

        assertThat(watch().of(Condition.NOT_MAKING_ICE)).isEmpty();
    }

    @Test
    void triesInWhichPumpAndFanRunAlone_areACompressorThatDoesNotStart() {
        cycles(60);
        long began = plate.now();
        for (int i = 0; i < 4; i++) {
            rests(720, 1);
            rests(300, 0.05);
        }
        Scene scene = watch();

        assertThat(scene.of(Condition.NOT_MAKING_ICE)).hasSize(1);
        Finding found = scene.of(Condition.NOT_MAKING_ICE).get(0);
        assertThat(found.probableCause().orElseThrow().cause()).isEqualTo(Cause.COMPRESSOR_NOT_STARTING);
        assertThat(found.summary()).contains("draws 1.00 A").contains("it drew 5.0 A");
        assertThat(hours(found, began)).isBetween(0.65, 0.75);
        assertThat(watch(new Scene(PlateModel.MACHINE).stoppingAfterEveryRecord()).findings)
                .isEqualTo(scene.findings);
    }

    @Test
    void sensorThatHasNeverShownAnyCurrent_saysNothing() {
        plate.cycles(60);
        for (int i = 0; i < 5; i++) {
            rests(1_200, 0);
            plate.silent(true).rest(1_200, Phase.OFF).silent(false);
        }

        assertThat(watch().of(Condition.NOT_MAKING_ICE)).isEmpty();
    }

    private List<ProbableCause> restedFor30Hours(double ampere) {
        for (int day = 0; day < 10; day++) {
            cycles(40);
            rests(8 * HOUR, 0.05);
        }
        cycles(10);
        rests(30 * HOUR, ampere);
        List<Finding> found = watch().of(Condition.NOT_MAKING_ICE);
        assertThat(found).hasSize(1);
        return found.get(0).causes();
    }

    @Test
    void restWithoutAnyCurrent_isAMachineWithoutPower() {
        List<ProbableCause> causes = restedFor30Hours(0);

        assertThat(causes).extracting(ProbableCause::cause).contains(Cause.POWER_OFF);
        assertThat(causes.get(0).cause()).isEqualTo(Cause.POWER_OFF);
        assertThat(causes.get(0).evidenceFor()).contains("It draws no current.");
        assertThat(causes.get(0).probability()).isGreaterThan(0.8);
    }

    @Test
    void restWithALittleCurrent_isAnythingButThat() {
        List<ProbableCause> causes = restedFor30Hours(0.05);

        assertThat(causes)
                .extracting(ProbableCause::cause)
                .contains(Cause.BIN_SENSOR_FAILED, Cause.COMPRESSOR_NOT_STARTING)
                .doesNotContain(Cause.POWER_OFF);
        assertThat(causes)
                .anySatisfy(cause -> assertThat(cause.evidenceFor()).contains("It draws current, so it has power."));
    }

    /** With a bin that still says that there is room; its signal comes from elsewhere than the machine. */
    private List<ProbableCause> calledFor8Hours(double ampere) {
        long from = plate.now();
        for (int day = 0; day < 10; day++) {
            cycles(40);
            bin(from, false);
            from = plate.now();
            rests(8 * HOUR, 0.05);
            bin(from, true);
            from = plate.now();
        }
        cycles(10);
        rests(8 * HOUR, ampere);
        bin(from, false);
        List<Finding> found = watch().of(Condition.NOT_MAKING_ICE);
        assertThat(found).hasSize(1);
        assertThat(hours(found.get(0), plate.now())).isLessThan(-4);
        return found.get(0).causes();
    }

    private void bin(long from, boolean isFull) {
        for (long at = from; at < plate.now(); at += 60_000) {
            currents.add(Reading.flag(PlateModel.MACHINE, Channel.BIN_FULL, at, isFull));
        }
    }

    @Test
    void callWithoutAnyCurrent_isAMachineWithoutPower() {
        List<ProbableCause> causes = calledFor8Hours(0);

        assertThat(causes.get(0).cause()).isEqualTo(Cause.POWER_OFF);
        assertThat(causes.get(0).probability()).isGreaterThan(0.8);
        assertThat(causes.get(0).evidenceFor())
                .anySatisfy(words -> assertThat(words).contains("draws no current"));
    }

    @Test
    void callWithALittleCurrent_isACompressorThatRests() {
        assertThat(calledFor8Hours(0.05).get(0).cause()).isEqualTo(Cause.COMPRESSOR_NOT_STARTING);
    }

    /** Near its limit within minutes and cold again, twice; then it is repaired. */
    private List<Reading> twoHotStarts(boolean withPhase) {
        PlateModel hot = new PlateModel(60, 0.2, true, withPhase, false, 6);
        hot.cycles(60);
        long began = hot.rest(1_800, Phase.IDLE).now();
        double[] celsius = {30, 42, 53, 59, 50, 42, 36, 32, 30, 29};
        hot.rest(2 * 20 * 60, Phase.IDLE);
        long end = hot.now();
        hot.cycles(60);
        return hot.readings.stream()
                .map(r ->
                        r.channel() == Channel.CONDENSER_TEMPERATURE && r.timeMillis() >= began && r.timeMillis() < end
                                ? Reading.number(
                                        r.machine(),
                                        r.channel(),
                                        r.timeMillis(),
                                        celsius[Math.min((int) ((r.timeMillis() - began) / 60_000 % 20), 9)])
                                : r)
                .toList();
    }

    @Test
    void hotStarts_areAStop_untilCyclesAreMadeAgain() {
        Scene scene = new Scene(PlateModel.MACHINE).readings(twoHotStarts(false));
        List<Finding> found = scene.of(Condition.STOPPED_BY_PROTECTION);

        assertThat(found).extracting(Finding::step).startsWith(Step.RAISED).endsWith(Step.CLEARED);
        assertThat(scene.cycles)
                .filteredOn(cycle -> cycle.freezeStart().isAfter(found.get(0).at())
                        && cycle.freezeStart()
                                .isBefore(found.get(found.size() - 1).at()))
                .hasSizeGreaterThanOrEqualTo(GOOD_CYCLES);
        assertThat(found.get(0).summary()).contains("comes to 59 °C").contains("its limit of 65 °C");
        assertThat(found.get(0).causes()).isNotEmpty();
    }

    @Test
    void hotStartsOfAMachineThatSaysWhatItDoes_areLeftToItsWord() {
        assertThat(new Scene(PlateModel.MACHINE).readings(twoHotStarts(true)).of(Condition.STOPPED_BY_PROTECTION))
                .isEmpty();
    }
}
