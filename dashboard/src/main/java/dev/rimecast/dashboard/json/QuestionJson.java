package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.advice.QuestionText;
import dev.rimecast.alerts.advice.QuestionTexts;
import dev.rimecast.alerts.view.Advice;
import dev.rimecast.alerts.view.Confidence;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Inquiry;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * The question that tells most for what it costs, in words, with what each answer would change.
 *
 * @param who who can answer: {@code site}, {@code operator} or {@code engineer}
 * @param opensPanel whether the cautions for covers apply
 * @param cautions those, of the book in force; empty where nothing is opened. The advice beside it may open nothing and have none
 * @param gainBits what its answer tells about the causes on average
 */
public record QuestionJson(
        String question,
        String who,
        String about,
        String ask,
        boolean opensPanel,
        List<String> cautions,
        double gainBits,
        List<AnswerJson> answers) {

    /**
     * An answer that can be given.
     *
     * @param chance how probable it is; left out for the answer that says nothing
     * @param cause what would be most probable then
     * @param confidence how sure that would be, in a word
     */
    public record AnswerJson(
            String answer,
            String text,
            @Nullable Double chance,
            @Nullable String cause,
            @Nullable String confidence,
            @Nullable Double probability) {}

    /** An answer that was given. */
    public record AnsweredJson(String question, String about, String answer, String text, String by, Instant at) {}

    static Optional<QuestionJson> of(Inquiry inquiry, Advice advice) {
        return inquiry.next()
                .flatMap(next -> QuestionTexts.STANDARD.of(next.question()).map(text -> of(next, text, advice)));
    }

    private static QuestionJson of(Inquiry.Next next, QuestionText text, Advice advice) {
        List<AnswerJson> answers = new ArrayList<>();
        for (Inquiry.Outcome outcome : next.outcomes()) {
            text.answer(outcome.answer())
                    .ifPresent(words -> answers.add(new AnswerJson(
                            outcome.answer(),
                            words,
                            Rounded.to3(outcome.chance()),
                            outcome.cause().code(),
                            confidence(outcome),
                            Rounded.to3(outcome.probability()))));
        }
        answers.add(new AnswerJson(
                Inquiry.CANNOT_TELL, text.answer(Inquiry.CANNOT_TELL).orElseThrow(), null, null, null, null));
        return new QuestionJson(
                text.id(),
                text.who(),
                text.about(),
                text.ask(),
                text.opensPanel(),
                text.opensPanel() ? advice.panelCautions() : List.of(),
                Rounded.to3(next.gainBits()),
                answers);
    }

    private static String confidence(Inquiry.Outcome outcome) {
        return Confidence.of(List.of(new ProbableCause(outcome.cause(), outcome.probability(), List.of(), List.of())))
                .code();
    }

    static List<AnsweredJson> given(Inquiry inquiry) {
        return inquiry.given().stream().map(QuestionJson::answered).toList();
    }

    static List<AnsweredJson> speakingFor(Inquiry inquiry, Cause cause) {
        return inquiry.given().stream()
                .filter(given -> given.speaksFor().contains(cause))
                .map(QuestionJson::answered)
                .toList();
    }

    static List<AnsweredJson> speakingAgainst(Inquiry inquiry, Cause cause) {
        return inquiry.given().stream()
                .filter(given -> given.speaksAgainst().contains(cause))
                .map(QuestionJson::answered)
                .toList();
    }

    /** A question of another version, without words here, is called by its code. */
    private static AnsweredJson answered(Inquiry.Given given) {
        Optional<QuestionText> text = QuestionTexts.STANDARD.of(given.question());
        return new AnsweredJson(
                given.question(),
                text.map(QuestionText::about).orElse(given.question()),
                given.answer(),
                text.flatMap(t -> t.answer(given.answer())).orElse(given.answer()),
                given.by(),
                given.at());
    }
}
