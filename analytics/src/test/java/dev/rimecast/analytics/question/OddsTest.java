package dev.rimecast.analytics.question;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * What a question tells, against the network "Asia" of S. L. Lauritzen and D. J. Spiegelhalter, J. R. Statist. Soc. B 50 (1988),
 * page 164 (probabilities from memory). Its eight states of tuberculosis, lung cancer and bronchitis are the causes here;
 * an X-ray and the question for breathlessness are what can be asked. The expected figures come from a program of its own in another
 * language that enumerates all variables of the network and sums p log2(p / (p p)).
 */
class OddsTest {
    private static final Cause[] PATIENTS = Cause.values();
    private static final Question XRAY = question("xray", i -> isEither(i) ? 0.98 : 0.05);
    private static final Question BREATHLESS =
            question("breathless", i -> isEither(i) ? (isBronchitis(i) ? 0.9 : 0.7) : (isBronchitis(i) ? 0.8 : 0.1));

    private static boolean isEither(int i) {
        return (i & 3) != 0;
    }

    private static boolean isBronchitis(int i) {
        return (i & 4) != 0;
    }

    private static double chance(boolean is, double probability) {
        return is ? probability : 1 - probability;
    }

    private static Question question(String id, java.util.function.IntToDoubleFunction yes) {
        Map<Cause, List<Double>> given = new EnumMap<>(Cause.class);
        IntStream.range(0, 8)
                .forEach(i -> given.put(PATIENTS[i], List.of(yes.applyAsDouble(i), 1 - yes.applyAsDouble(i))));
        return new Question(
                id,
                1,
                Question.Who.SITE,
                1,
                Set.of(),
                Set.of(),
                false,
                List.of("yes", "no"),
                Set.of(),
                given,
                List.of(0.5, 0.5));
    }

    private static Odds patients(Map<Cause, String> sameWork) {
        List<ProbableCause> patients = new ArrayList<>();
        for (int i = 0; i < 8; i++) {
            double ofBoth = 0;
            for (boolean smokes : new boolean[] {true, false}) {
                ofBoth += 0.5 * chance((i & 2) != 0, smokes ? 0.1 : 0.01) * chance(isBronchitis(i), smokes ? 0.6 : 0.3);
            }
            double probability = chance((i & 1) != 0, 0.01 * 0.05 + 0.99 * 0.01) * ofBoth;
            patients.add(new ProbableCause(PATIENTS[i], probability, List.of(), List.of()));
        }
        return Odds.of(new QuestionBook(List.of(), Map.of(), sameWork, Map.of()), patients);
    }

    @Test
    void chance_ofAnAnswer_isTheNetworks() {
        assertThat(patients(Map.of()).chance(XRAY, 0)).isCloseTo(0.11029004, within(1e-9));
        assertThat(patients(Map.of()).chance(BREATHLESS, 0)).isCloseTo(0.4359706, within(1e-9));
    }

    @Test
    void gain_everyStateByItself_isTheMutualInformation() {
        Odds odds = patients(Map.of());

        assertThat(odds.gainBits(XRAY)).isCloseTo(0.22379046430983, within(1e-9));
        assertThat(odds.gainBits(BREATHLESS)).isCloseTo(0.40244454975822, within(1e-9));
    }

    @Test
    void gain_afterAnAnswer_isTheMutualInformationGivenIt() {
        assertThat(patients(Map.of()).after(BREATHLESS, 0).gainBits(XRAY)).isCloseTo(0.37038135305928, within(1e-9));
    }

    /** Where only either disease against none leads to other work, breathlessness tells little and the X-ray as much. */
    @Test
    void gain_statesOfTheSameWork_countAsOne() {
        Map<Cause, String> work = new EnumMap<>(Cause.class);
        IntStream.range(0, 8).forEach(i -> work.put(PATIENTS[i], isEither(i) ? "either" : "neither"));
        Odds odds = patients(work);

        assertThat(odds.gainBits(BREATHLESS)).isCloseTo(0.02954968148446, within(1e-9));
        assertThat(odds.gainBits(XRAY)).isCloseTo(0.22379046430983, within(1e-9));
    }

    /** Two hypotheses of a half each and an answer that is right nine times in ten: 1 - H(0.1) bits, the binary symmetric channel. */
    @ParameterizedTest
    @CsvSource({"0.9, 0.5310044064", "0.5, 0", "0.75, 0.1887218755"})
    void gain_binarySymmetricChannel_isItsCapacity(double right, double bits) {
        Question question = new Question(
                "channel",
                1,
                Question.Who.SITE,
                1,
                Set.of(),
                Set.of(),
                false,
                List.of("yes", "no"),
                Set.of(),
                Map.of(Cause.SCALE, List.of(right, 1 - right)),
                List.of(1 - right, right));
        Odds odds = Odds.of(QuestionBook.STANDARD, List.of(new ProbableCause(Cause.SCALE, 0.5, List.of(), List.of())));

        assertThat(odds.gainBits(question)).isCloseTo(bits, within(1e-9));
    }

    @Test
    void ranked_groupThatAnAnswerSplits_namesThePart() {
        Odds loss =
                Odds.of(QuestionBook.STANDARD, List.of(new ProbableCause(Cause.WATER_LOSS, 0.8, List.of(), List.of())));
        Question plug = QuestionBook.STANDARD.find("sump-plug").orElseThrow();

        assertThat(loss.ranked()).containsOnlyKeys(Cause.WATER_LOSS);
        assertThat(loss.after(plug, 0).ranked().keySet()).first().isEqualTo(Cause.SUMP_PLUG_OFF);
        assertThat(loss.after(plug, 1).ranked()).containsOnlyKeys(Cause.WATER_LOSS);
    }
}
