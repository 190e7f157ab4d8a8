package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/** A plate that does not come to 0 °C within its limit of 900 s: at once, or after it took longer and longer. */
class SuddenPullDownTest {
    private static final String AT_ONCE =
            "The plate did not come to 0 °C at once; the cycles before were as they should be.";
    private static final String SILENT = "The condenser does not warm and the plate does not cool in a freeze.";

    private final PlateModel plate = new PlateModel(30, 0.2, true, true, false, 4);

    /** A freeze in which the plate stays warm, whatever the condenser does. */
    private List<Reading> withAFreezeThatStaysWarm(int cycles) {
        plate.cycles(cycles);
        long began = plate.now();
        return plate.freeze(1_500).readings.stream()
                .map(r -> r.channel() == Channel.EVAPORATOR_TEMPERATURE && r.timeMillis() >= began
                        ? Reading.number(r.machine(), r.channel(), r.timeMillis(), 8 + r.timeMillis() / 1000 % 7 * 0.1)
                        : r)
                .toList();
    }

    private static List<Finding> atLimit(Scene scene) {
        return scene.of(Condition.SLOW_PULL_DOWN).stream()
                .filter(finding -> finding.stage() == Stage.AT_LIMIT)
                .toList();
    }

    private static List<String> evidence(Finding finding) {
        return finding.causes().stream()
                .flatMap(cause -> cause.evidenceFor().stream())
                .toList();
    }

    @Test
    void limitReachedAtOnce_isFirstACompressorThatDoesNotStart_notTheAirFlow() {
        Scene scene = new Scene(PlateModel.MACHINE).readings(withAFreezeThatStaysWarm(120));

        assertThat(atLimit(scene)).hasSize(1);
        List<ProbableCause> causes = atLimit(scene).get(0).causes();
        assertThat(causes.get(0).cause()).isEqualTo(Cause.COMPRESSOR_NOT_STARTING);
        assertThat(causes)
                .extracting(ProbableCause::cause)
                .contains(Cause.HOT_GAS_VALVE_LEAKING, Cause.EVAPORATOR_SENSOR_LOOSE)
                .doesNotContain(Cause.AIRFLOW_RESTRICTED, Cause.FAN_WEAK, Cause.FAN_FAILED);
        assertThat(causes).allSatisfy(cause -> assertThat(cause.evidenceFor()).containsExactly(AT_ONCE));
    }

    @Test
    void limitReachedWhileTheCondenserCools_isTheCompressor_byTheCondenser() {
        plate.restingPlateCelsius = 12;
        Scene scene = new Scene(PlateModel.MACHINE).readings(plate.cycles(120).rest(1_500, Phase.FREEZE).readings);

        assertThat(atLimit(scene)).hasSize(1);
        List<ProbableCause> causes = atLimit(scene).get(0).causes();
        assertThat(causes)
                .extracting(ProbableCause::cause)
                .containsExactly(Cause.COMPRESSOR_NOT_STARTING, Cause.CONTROLLER_FAILED);
        assertThat(causes).allSatisfy(cause -> assertThat(cause.evidenceFor()).containsExactly(SILENT));
    }

    @Test
    void limitReachedAfterADrift_isOfWhatDrifted() {
        plate.cycles(300);
        for (int i = 0; i < 400; i++) {
            plate.pullDownSeconds += 2.2;
            plate.freezeSeconds += 1;
            plate.cycles(1);
        }
        Scene scene = new Scene(PlateModel.MACHINE).readings(plate.readings);

        assertThat(scene.of(Condition.SLOW_PULL_DOWN).get(0).stage()).isEqualTo(Stage.EARLY);
        assertThat(atLimit(scene)).isNotEmpty();
        assertThat(atLimit(scene).get(0).causes()).isNotEmpty();
        assertThat(evidence(atLimit(scene).get(0)))
                .doesNotContain(AT_ONCE)
                .anyMatch(words -> words.startsWith("Pull-down is "));
    }

    /** Of the cycles before nothing is known: there were none. */
    @Test
    void firstFreezeOfAll_saysNothingOfCyclesBefore() {
        Scene scene = new Scene(PlateModel.MACHINE).readings(withAFreezeThatStaysWarm(0));

        assertThat(atLimit(scene)).isNotEmpty();
        assertThat(evidence(atLimit(scene).get(0))).doesNotContain(AT_ONCE);
    }

    /** It is seen in readings of the condenser, and a tape has none. */
    @Test
    void fromATape_itIsTheCompressorAsItWas() {
        plate.restingPlateCelsius = 12;
        plate.cycles(120).rest(1_500, Phase.FREEZE);
        List<byte[]> tape = new ArrayList<>();
        TapeWriter writer = new TapeWriter(tape::add);
        Scene live = Scene.taped(writer, PlateModel.MACHINE).readings(plate.readings);
        writer.flush();

        Recorded again = new Recorded();
        TapePlayer player = new TapePlayer(Scene.SITE, Policy.standard(), again);
        tape.forEach(player::accept);

        assertThat(evidence(atLimit(live).get(0))).contains(SILENT);
        assertThat(again.findings).isEqualTo(live.findings);
    }
}
