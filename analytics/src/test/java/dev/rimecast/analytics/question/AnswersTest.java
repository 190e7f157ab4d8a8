package dev.rimecast.analytics.question;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.machine.Machine;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class AnswersTest {
    private static final Machine MACHINE = Machine.basic("ice-1", "bar", "gw");
    private static final List<ProbableCause> HOT = List.of(
            new ProbableCause(Cause.AIRFLOW_RESTRICTED, 0.6, List.of("Split is 8 K higher."), List.of()),
            new ProbableCause(Cause.FAN_WEAK, 0.2, List.of(), List.of()),
            new ProbableCause(Cause.HOT_AIR_RECIRCULATING, 0.1, List.of(), List.of("It has grown.")));

    private final Answers answers = new Answers();

    @Test
    void weigh_noAnswer_isTheDiagnosis() {
        assertThat(answers.weigh(HOT)).isEqualTo(HOT);
    }

    /** 0.6 x 0.15 = 0.09 of 0.09 + 0.2 x 0.6 + 0.1 x 0.6 + 0.1 x 0.6 = 0.33, by hand. */
    @Test
    void weigh_cleanFilter_followsBayes() {
        answers.take("air-filter:clean", 1_000, "Ann");

        List<ProbableCause> weighed = answers.weigh(HOT);
        assertThat(weighed).extracting(ProbableCause::cause).startsWith(Cause.FAN_WEAK, Cause.AIRFLOW_RESTRICTED);
        assertThat(weighed.get(0).probability()).isCloseTo(0.12 / 0.33, within(1e-12));
        assertThat(weighed.get(1).probability()).isCloseTo(0.09 / 0.33, within(1e-12));
        assertThat(weighed.get(1).evidenceFor()).containsExactly("Split is 8 K higher.");
    }

    @Test
    void inquiry_answerGiven_saysForWhomAndAsksSomethingElse() {
        Inquiry before = answers.inquiry(HOT, MACHINE, false);
        String first = before.next().orElseThrow().question();
        String answer = before.next().orElseThrow().outcomes().get(0).answer();
        answers.take(first + ':' + answer, 1_000, "Ann");

        Inquiry after = answers.inquiry(HOT, MACHINE, false);
        assertThat(after.given()).hasSize(1);
        assertThat(after.given().get(0).by()).isEqualTo("Ann");
        assertThat(after.given().get(0).speaksFor()).isNotEmpty();
        assertThat(after.next().map(Inquiry.Next::question))
                .isNotEqualTo(before.next().map(Inquiry.Next::question));
    }

    /** What a question promises is what comes true when it is answered so. */
    @Test
    void inquiry_outcome_isWhatTheAnswerThenBrings() {
        Inquiry.Next next = answers.inquiry(HOT, MACHINE, false).next().orElseThrow();

        assertThat(next.outcomes().stream().mapToDouble(Inquiry.Outcome::chance).sum())
                .isCloseTo(1, within(1e-12));
        for (Inquiry.Outcome outcome : next.outcomes()) {
            Answers then = new Answers();
            then.take(next.question() + ':' + outcome.answer(), 1_000, "");
            assertThat(then.weigh(HOT).get(0).cause()).isEqualTo(outcome.cause());
            assertThat(then.weigh(HOT).get(0).probability()).isCloseTo(outcome.probability(), within(1e-12));
        }
    }

    @Test
    void inquiry_cannotTell_weighsNothingAndIsNotAskedAgain() {
        String first = answers.inquiry(HOT, MACHINE, false).next().orElseThrow().question();
        answers.take(first + ":cannot-tell", 1_000, "Ann");

        assertThat(answers.weigh(HOT)).isEqualTo(HOT);
        assertThat(answers.inquiry(HOT, MACHINE, false).next().map(Inquiry.Next::question))
                .isPresent()
                .isNotEqualTo(java.util.Optional.of(first));
    }

    /** A site that still has no ice has not told what it was asked: the question is spent, and says so as it was said. */
    @Test
    void inquiry_stillNoIce_weighsNothingIsNotAskedAgainAndIsKept() {
        String first = answers.inquiry(HOT, MACHINE, false).ofSite().get(0);
        assertThat(answers.take(first + ":still-no-ice", 1_777_800_000_000L, "site"))
                .isTrue();
        StateWriter out = new StateWriter();
        answers.save(out);

        for (Answers each : List.of(answers, Answers.restore(new StateReader(out.toBytes())))) {
            assertThat(each.weigh(HOT)).isEqualTo(HOT);
            assertThat(each.inquiry(HOT, MACHINE, false).ofSite()).isNotEmpty().doesNotContain(first);
            assertThat(each.inquiry(HOT, MACHINE, false).given())
                    .extracting(given -> given.question() + ':' + given.answer())
                    .containsExactly(first + ":still-no-ice");
        }
        assertThat(Answers.putsRight(first + ":still-no-ice")).isFalse();
    }

    @Test
    void inquiry_causeThatIsCertain_asksNothing() {
        assertThat(answers.inquiry(List.of(new ProbableCause(Cause.SCALE, 1, List.of(), List.of())), MACHINE, false)
                        .next())
                .isEmpty();
    }

    @Test
    void inquiry_ofTheSite_holdsOnlyWhatTheSiteCanAnswer() {
        assertThat(answers.inquiry(HOT, MACHINE, false).ofSite())
                .isNotEmpty()
                .hasSizeLessThanOrEqualTo(3)
                .allMatch(id -> QuestionBook.STANDARD.find(id).orElseThrow().who() == Question.Who.SITE);
    }

    /** Nobody can feel the warm air of a machine that stands, or watch its harvest. */
    @Test
    void inquiry_ofAMachineThatStands_asksLastWhatNeedsARunningOne() {
        List<String> running = asked(false);
        List<String> standing = asked(true);

        assertThat(running.indexOf("air-blows"))
                .as("best is what tells most for its cost")
                .isBetween(0, running.size() - 3);
        assertThat(standing).containsExactlyInAnyOrderElementsOf(running);
        assertThat(standing.stream().dropWhile(id -> !QuestionBook.needRunning().contains(id)))
                .as("once such a question comes, all that follow are such")
                .isNotEmpty()
                .allMatch(QuestionBook.needRunning()::contains);
        assertThat(answers.inquiry(HOT, MACHINE, true).ofSite().get(0)).isNotEqualTo("air-blows");
    }

    /** Everything that is asked, one after the other, each time told that nobody can tell. */
    private static List<String> asked(boolean stands) {
        Answers none = new Answers();
        List<String> asked = new ArrayList<>();
        // No more than are kept of what was answered: what is forgotten is asked again.
        while (asked.size() < 6) {
            Optional<Inquiry.Next> next = none.inquiry(HOT, MACHINE, stands).next();
            if (next.isEmpty()) {
                break;
            }
            asked.add(next.get().question());
            none.take(next.get().question() + ":cannot-tell", 1_000, "");
        }
        return asked;
    }

    @Test
    void take_answerAnew_replacesTheOldOne() {
        answers.take("air-filter:clean", 1_000, "Ann");
        answers.take("air-filter:was-full", 2_000, "Ann");

        assertThat(answers.inquiry(HOT, MACHINE, false).given())
                .extracting(Inquiry.Given::answer)
                .containsExactly("was-full");
    }

    @Test
    void take_whatIsNoAnswer_isLeftAlone() {
        assertThat(answers.take("done", 1, "")).isFalse();
        assertThat(answers.take("air-filter:perhaps", 1, "")).isFalse();
        assertThat(answers.take("no-such-question:yes", 1, "")).isFalse();
        assertThat(answers.isEmpty()).isTrue();
    }

    @Test
    void putsRight_thingFoundOrCheckDone_only() {
        assertThat(Answers.putsRight("air-filter:was-full")).isTrue();
        assertThat(Answers.putsRight("airflow-restricted.1:done")).isTrue();
        assertThat(Answers.putsRight("done")).isTrue();
        assertThat(Answers.putsRight("air-filter:clean")).isFalse();
        assertThat(Answers.putsRight("airflow-restricted.1:cannot")).isFalse();
        assertThat(Answers.putsRight("airflow-restricted.4:yes")).isFalse();
        assertThat(Answers.putsRight("scale.1:looked")).isFalse();
        assertThat(Answers.putsRight("scale.1:in-order")).isFalse();
        assertThat(Answers.putsRight("")).isFalse();
    }

    @Test
    void restore_savedAnswers_weighTheSame() {
        answers.take("air-filter:clean", 1_777_800_000_000L, "a name that is longer than what is kept of it");
        answers.take("air-blows:cannot-tell", 1_777_800_060_000L, "");
        StateWriter out = new StateWriter();
        answers.save(out);
        Answers restored = Answers.restore(new StateReader(out.toBytes()));

        assertThat(restored.inquiry(HOT, MACHINE, false)).isEqualTo(answers.inquiry(HOT, MACHINE, false));
        assertThat(out.size()).as("bytes of two answers").isLessThanOrEqualTo(60);
    }

    /** The largest states of machines are some 3,800 bytes of 4,096: answers must not take the rest of it. */
    @Test
    void save_asManyAnswersAsAreKept_withLongNames_isSmall() {
        List<String> ids = QuestionBook.STANDARD.questions().stream()
                .map(Question::id)
                .limit(10)
                .toList();
        for (int i = 0; i < ids.size(); i++) {
            answers.take(ids.get(i) + ":cannot-tell", 1_777_800_000_000L + 86_400_000L * i, "名前".repeat(20));
        }
        StateWriter out = new StateWriter();
        answers.save(out);

        assertThat(answers.inquiry(HOT, MACHINE, false).given())
                .extracting(Inquiry.Given::question)
                .containsExactlyElementsOf(ids.subList(4, 10));
        assertThat(out.size()).isLessThanOrEqualTo(180);
        assertThat(answers.inquiry(HOT, MACHINE, false).given().get(0).by()).isEqualTo("名前名前名前");
    }
}
