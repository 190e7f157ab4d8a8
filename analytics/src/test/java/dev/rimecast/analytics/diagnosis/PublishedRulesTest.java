package dev.rimecast.analytics.diagnosis;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Every line of the matrix, at every severity, against the rules of T. M. Rossi and J. E. Braun, A statistical, rule-based
 * fault detection and diagnostic method for vapor compression air conditioners, HVAC&R Research 3(1), 1997, as printed in H.
 * Li's thesis, table 1-1. Theirs are signs of the residuals of evaporating temperature, superheat, condensing temperature,
 * subcooling, discharge temperature, and the air's change of temperature over condenser and evaporator:
 *
 * <pre>
 * refrigerant leak       - + - - + - -
 * compressor valve leak  + - - - - - -
 * liquid restriction     - + - + + - -
 * condenser fouling      + - + - + + -
 * evaporator fouling     - - - - - - +
 * </pre>
 *
 * <p>What can be compared: condensing temperature is our split, at an ambient that is taken off; evaporating temperature our
 * evaporator end; less cooling of the air over the evaporator is less heat taken out, which makes our freeze longer. There are no
 * channels for the other four.
 *
 * <p>Exceptions, stated:
 *
 * <ul>
 *   <li>Evaporating temperature with a leak or a restriction. Theirs falls, for a steady load of air. A batch machine's probe
 *       sits at the plate, which cools while the batch freezes: with less refrigerant it falls more slowly and is warmer at any
 *       fixed time.
 *   <li>Evaporator fouling. Theirs is less air, and warms what air is left less; ours is scale on a plate in water. Where
 *       temperature ends the freeze, the plate reaches it too soon and the freeze is shorter.
 *   <li>Where time ends the freeze its length says nothing.
 * </ul>
 */
class PublishedRulesTest {

    @ParameterizedTest(name = "{0}: condensing {1}, evaporating {2}, length of a freeze {3}")
    @CsvSource({
        "LOW_CHARGE, -1, +1, +1",
        "REFRIGERANT_RESTRICTION, -1, +1, +1",
        "COMPRESSOR_WEAK, -1, +1, +1",
        "AIRFLOW_RESTRICTED, +1, +1, +1",
        "FAN_WEAK, +1, +1, +1",
        "FAN_FAILED, +1, +1, +1"
    })
    void matrix_refrigerantSide_hasThePublishedSigns(Cause cause, int condensing, int evaporating, int freeze) {
        for (Symptoms line : linesOf(cause)) {
            for (int point = 0; point < line.points().size(); point++) {
                assertThat(Math.signum(line.change(Feature.SPLIT, point, 1))).isEqualTo(condensing);
                assertThat(Math.signum(line.change(Feature.EVAPORATOR_END, point, 1)))
                        .isEqualTo(evaporating);
                assertThat(Math.signum(line.change(Feature.FREEZE, point, 1))).isEqualTo(isByTime(line) ? 0 : freeze);
            }
        }
    }

    /** Evaporator fouling: both temperatures fall, or stay where the probe itself ends the freeze. */
    @ParameterizedTest(name = "{0}")
    @CsvSource("SCALE")
    void matrix_evaporatorSide_hasThePublishedSigns(Cause cause) {
        for (Symptoms line : linesOf(cause)) {
            boolean isByProbe = line.freezeEndsBy().equals(Set.of(EndsBy.TEMPERATURE));
            for (int point = 0; point < line.points().size(); point++) {
                assertThat(Math.signum(line.change(Feature.SPLIT, point, 1))).isEqualTo(isByProbe ? 0 : -1);
                assertThat(Math.signum(line.change(Feature.EVAPORATOR_END, point, 1)))
                        .isEqualTo(isByProbe ? 0 : -1);
            }
        }
    }

    private static boolean isByTime(Symptoms line) {
        return line.freezeEndsBy().equals(Set.of(EndsBy.TIME));
    }

    private static List<Symptoms> linesOf(Cause cause) {
        List<Symptoms> lines =
                SymptomMatrix.LINES.stream().filter(l -> l.cause() == cause).toList();
        assertThat(lines).isNotEmpty();
        return lines;
    }
}
