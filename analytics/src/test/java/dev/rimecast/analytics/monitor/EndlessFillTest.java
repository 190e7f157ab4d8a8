package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * A fill that does not end. An open sump empties in about a minute and looks like no water; it is told from a shut supply by what the drain
 * and the meter do meanwhile [facts of the trade].
 */
class EndlessFillTest {
    private final PlateModel plate = new PlateModel(30, 0.2, true, true, true, 3);
    private final List<Reading> others = new ArrayList<>();

    private void cycles(int count) {
        for (int i = 0; i < count; i++) {
            plate.cycles(1);
            drains(plate.now());
        }
    }

    private void drains(long at) {
        others.add(Reading.number(PlateModel.MACHINE, Channel.DRAIN_LEVEL, at, 1));
        others.add(Reading.number(PlateModel.MACHINE, Channel.DRAIN_LEVEL, at + 2_500, 0));
    }

    /** The drain works every 40 s, as the pump of a tank does that water runs into without a break. */
    private void fillsAndDrains(int seconds) {
        long end = plate.now() + seconds * 1000L;
        for (long at = plate.now() + 20_000; at < end; at += 40_000) {
            drains(at);
        }
        plate.rest(seconds, Phase.FILL);
    }

    private List<Reading> all() {
        List<Reading> all = new ArrayList<>(plate.readings);
        all.addAll(others);
        all.sort(Comparator.comparingLong(Reading::timeMillis));
        return all;
    }

    private Scene watch() {
        return new Scene(PlateModel.MACHINE).stoppingAfterEveryRecord().readings(all());
    }

    private static Cause first(Finding finding) {
        return finding.probableCause().orElseThrow().cause();
    }

    @Test
    void noWaterComes_isSaidWithinTenMinutes_asTheSupply() {
        cycles(20);
        long began = plate.now();
        plate.rest(1_200, Phase.FILL);

        Finding found = watch().of(Condition.SLOW_FILL).get(0);

        assertThat(found.stage()).isEqualTo(Stage.AT_LIMIT);
        assertThat(found.at().toEpochMilli() - began).isBetween(480_000L, 540_000L);
        assertThat(found.summary()).contains("no water comes, or hardly any");
        assertThat(first(found)).isEqualTo(Cause.WATER_SUPPLY_LOW);
    }

    @Test
    void waterThatRunsAwayAfterACleaning_isThePlug_andTheReasonOfTheStop() {
        cycles(20);
        plate.rest(1_800, Phase.CLEAN);
        fillsAndDrains(590);
        plate.rest(1_200, Phase.STOPPED);
        Scene scene = watch();

        assertThat(scene.of(Condition.SLOW_FILL)).isEmpty();
        assertThat(scene.of(Condition.WATER_USE_HIGH).get(0).summary()).contains("runs away");
        assertThat(first(scene.of(Condition.WATER_USE_HIGH).get(0))).isEqualTo(Cause.SUMP_PLUG_OFF);
        assertThat(first(scene.of(Condition.STOPPED_BY_PROTECTION).get(0))).isEqualTo(Cause.SUMP_PLUG_OFF);
    }

    @Test
    void waterThatRunsAwayByItself_isTheDumpValve() {
        cycles(20);
        fillsAndDrains(590);

        assertThat(first(watch().of(Condition.WATER_USE_HIGH).get(0))).isEqualTo(Cause.DUMP_VALVE_LEAKING);
    }

    @Test
    void meterThatRuns_tellsIt_too() {
        cycles(20);
        double[] cubicMetres = {2, 2.002, 2.005, 2.008};
        for (int i = 0; i < cubicMetres.length; i++) {
            others.add(Reading.number(
                    PlateModel.MACHINE, Channel.WATER_VOLUME, plate.now() - 60_000 + i * 150_000L, cubicMetres[i]));
        }
        plate.rest(900, Phase.FILL);

        assertThat(watch().of(Condition.WATER_USE_HIGH).get(0).summary()).contains("runs away");
    }

    /** A sump that keeps a little lets the machine freeze for a while. */
    @Test
    void waterThatRunsAway_explainsAStopAfterAFreezeThatWentOn_too() {
        cycles(20);
        fillsAndDrains(590);
        plate.freeze(900).rest(1_200, Phase.STOPPED);

        assertThat(first(watch().of(Condition.STOPPED_BY_PROTECTION).get(0))).isEqualTo(Cause.DUMP_VALVE_LEAKING);
    }

    @Test
    void waterThatRanAwayAndStays_endsIt() {
        cycles(20);
        fillsAndDrains(590);
        cycles(150);

        assertThat(watch().of(Condition.WATER_USE_HIGH))
                .extracting(Finding::step)
                .startsWith(Finding.Step.RAISED)
                .endsWith(Finding.Step.CLEARED);
    }

    @Test
    void waitAfterPowerOn_aBreak_andAMachineThatHasNeverMadeIce_sayNothing() {
        plate.rest(1_200, Phase.FILL);
        cycles(20);
        plate.rest(3_600, Phase.OFF).rest(330, Phase.FILL);
        cycles(2);
        plate.rest(240, Phase.FILL)
                .silent(true)
                .rest(900, Phase.FILL)
                .silent(false)
                .rest(240, Phase.FILL);
        cycles(2);

        assertThat(watch().of(Condition.SLOW_FILL)).isEmpty();
    }

    @Test
    void waterThatComesBack_endsIt() {
        cycles(20);
        plate.rest(1_200, Phase.FILL);
        cycles(150);

        assertThat(watch().of(Condition.SLOW_FILL))
                .extracting(Finding::step)
                .startsWith(Finding.Step.RAISED)
                .endsWith(Finding.Step.CLEARED);
    }

    @Test
    void waterThatRanAway_isStillSaid_afterTheDrainHasRestedInAShorterFill() {
        cycles(20);
        plate.rest(1_800, Phase.CLEAN);
        fillsAndDrains(590);
        plate.rest(60, Phase.WAIT).rest(120, Phase.FILL).rest(1_200, Phase.STOPPED);

        assertThat(first(watch().of(Condition.STOPPED_BY_PROTECTION).get(0))).isEqualTo(Cause.SUMP_PLUG_OFF);
    }

    @Test
    void fullBin_isNoFillThatDoesNotEnd() {
        cycles(20);
        others.add(Reading.number(PlateModel.MACHINE, Channel.BIN_FULL, plate.now(), 1));
        plate.rest(3_600, Phase.FILL);

        assertThat(watch().of(Condition.SLOW_FILL)).isEmpty();
    }

    @Test
    void fillThatEndedAndAFreezeThatWentOn_explainNoStopAnyMore() {
        cycles(20);
        plate.rest(600, Phase.FILL).freeze(900).rest(1_200, Phase.STOPPED);
        Scene scene = watch();

        assertThat(scene.of(Condition.SLOW_FILL)).isNotEmpty();
        assertThat(scene.of(Condition.STOPPED_BY_PROTECTION).get(0).causes())
                .extracting(Finding.ProbableCause::cause)
                .doesNotContain(Cause.WATER_SUPPLY_LOW);
    }

    /** It is seen in readings, and a tape has none. */
    @Test
    void fromATape_itIsSaidAsItWas() {
        for (int i = 0; i < 3; i++) {
            cycles(20 + 130 * i);
            plate.rest(1_200, Phase.FILL);
        }
        cycles(150);
        List<byte[]> tape = new ArrayList<>();
        TapeWriter writer = new TapeWriter(tape::add);
        Scene live = Scene.taped(writer, PlateModel.MACHINE).readings(all());
        writer.flush();

        Recorded again = new Recorded();
        TapePlayer player = new TapePlayer(Scene.SITE, Policy.standard(), again);
        tape.forEach(player::accept);

        assertThat(live.of(Condition.SLOW_FILL)).hasSizeGreaterThan(3);
        assertThat(again.findings).isEqualTo(live.findings);
    }
}
