package dev.rimecast.analytics.diagnosis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.function.Predicate;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Weighing of hypotheses against a published network whose answers are known. */
class PosteriorTest {

    /** What is not seen directly in the network: the eight combinations are the hypotheses, of which exactly one is true. */
    private record Patient(boolean tuberculosis, boolean lungCancer, boolean bronchitis) {
        static Patient of(int i) {
            return new Patient((i & 1) != 0, (i & 2) != 0, (i & 4) != 0);
        }

        boolean either() {
            return tuberculosis || lungCancer;
        }
    }

    private static double chance(boolean is, double probability) {
        return is ? probability : 1 - probability;
    }

    /**
     * The network "Asia" of S. L. Lauritzen and D. J. Spiegelhalter, Local computations with probabilities on graphical
     * structures and their application to expert systems, J. R. Statist. Soc. B 50 (1988), page 164; probabilities from memory,
     * the answers below from an enumeration of the whole network.
     *
     * @param visit whether it is known that the patient was in Asia; smoking is not known
     */
    private static double logPrior(Patient patient, boolean visit) {
        double ofTuberculosis = visit ? 0.05 : 0.01 * 0.05 + 0.99 * 0.01;
        double ofBoth = 0;
        for (boolean smokes : new boolean[] {true, false}) {
            ofBoth += 0.5
                    * chance(patient.lungCancer(), smokes ? 0.1 : 0.01)
                    * chance(patient.bronchitis(), smokes ? 0.6 : 0.3);
        }
        return Math.log(chance(patient.tuberculosis(), ofTuberculosis)) + Math.log(ofBoth);
    }

    private static double logOfBreathlessness(Patient patient) {
        return Math.log(patient.either() ? (patient.bronchitis() ? 0.9 : 0.7) : (patient.bronchitis() ? 0.8 : 0.1));
    }

    private static double logOfClearXray(Patient patient) {
        return Math.log(1 - (patient.either() ? 0.98 : 0.05));
    }

    private static double[] posterior(boolean visit, boolean isBreathless, boolean isXrayClear) {
        double[] logWeights = new double[8];
        for (int i = 0; i < logWeights.length; i++) {
            Patient patient = Patient.of(i);
            logWeights[i] = logPrior(patient, visit)
                    + (isBreathless ? logOfBreathlessness(patient) : 0)
                    + (isXrayClear ? logOfClearXray(patient) : 0);
        }
        return Posterior.of(logWeights);
    }

    private static double sum(double[] probabilities, Predicate<Patient> those) {
        double sum = 0;
        for (int i = 0; i < probabilities.length; i++) {
            sum += those.test(Patient.of(i)) ? probabilities[i] : 0;
        }
        return sum;
    }

    @ParameterizedTest
    @CsvSource({
        "false, false, false, 0.0104, 0.055, 0.45",
        "true, true, false, 0.0877510, 0.0995251, 0.8114021",
        "true, true, true, 0.0022487, 0.0025504, 0.8627608"
    })
    void posterior_asiaNetwork_agrees(
            boolean visit,
            boolean isBreathless,
            boolean isXrayClear,
            double tuberculosis,
            double lung,
            double bronchitis) {
        double[] probabilities = posterior(visit, isBreathless, isXrayClear);

        assertThat(sum(probabilities, Patient::tuberculosis)).isCloseTo(tuberculosis, within(1e-6));
        assertThat(sum(probabilities, Patient::lungCancer)).isCloseTo(lung, within(1e-6));
        assertThat(sum(probabilities, Patient::bronchitis)).isCloseTo(bronchitis, within(1e-6));
    }

    /** The usual example of a rare state: prevalence 1 %, sensitivity 99 %, specificity 95 %: 1 in 6 of those found has it. */
    @Test
    void posterior_rareState_isOneSixth() {
        double[] probabilities =
                Posterior.of(new double[] {Math.log(0.01) + Math.log(0.99), Math.log(0.99) + Math.log(0.05)});

        assertThat(probabilities[0]).isCloseTo(1.0 / 6, within(1e-12));
    }

    /** Log-odds of a machine's features can be hundreds below zero. */
    @Test
    void posterior_weightsFarBelowZero_doNotUnderflow() {
        double[] probabilities = Posterior.of(new double[] {-2000, -2000 + Math.log(3)});

        assertThat(probabilities[1]).isCloseTo(0.75, within(1e-12));
    }
}
