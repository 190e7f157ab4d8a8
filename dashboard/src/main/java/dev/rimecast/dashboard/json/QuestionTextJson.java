package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.advice.QuestionText;
import dev.rimecast.telemetry.finding.Inquiry;
import java.util.List;
import java.util.stream.Stream;

/**
 * A question that people can be asked, whatever is wrong, with the answers that it has.
 *
 * @param who who can answer: {@code site}, {@code operator} or {@code engineer}
 */
public record QuestionTextJson(String question, String who, String about, String ask, List<ChoiceJson> answers) {
    public QuestionTextJson {
        answers = List.copyOf(answers);
    }

    /** @param answer as in the site's log */
    public record ChoiceJson(String answer, String text) {}

    public static QuestionTextJson of(QuestionText text) {
        return new QuestionTextJson(
                text.id(),
                text.who(),
                text.about(),
                text.ask(),
                Stream.concat(text.answers().keySet().stream(), Stream.of(Inquiry.CANNOT_TELL))
                        .map(code -> new ChoiceJson(code, text.answer(code).orElseThrow()))
                        .toList());
    }
}
