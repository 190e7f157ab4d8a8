package dev.rimecast.alerts.advice;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.log.EventKind;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What the detail of an event {@code site-answer} says: {@code question:answer} of {@code questions.yaml},
 * {@code check:answer} of the advice (the check by its entry and place, such as {@code airflow-restricted.2:done}), or
 * words. Detection goes by the first two; words are kept and weigh nothing, but that {@code done} alone says that something was put
 * right. So what is meant as one of the first two and is none is told to who reports it rather than kept and passed over. What has their
 * shape and begins as no question does, such as a time of day, is words: whoever sends it is not to be stopped.
 */
public final class SiteAnswer {
    /** No blank and no capital: nobody writes so to people. */
    private static final Pattern IN_CODES = Pattern.compile("([a-z0-9.-]+):([a-z0-9-]+)");

    private static final Pattern CHECK = Pattern.compile("([a-z0-9-]+)\\.[1-9][0-9]?");
    private static final Set<String> OF_A_CHECK =
            Set.of("done", "in-order", "cannot", "yes", "no", "looked", Inquiry.STILL_NO_ICE);

    private SiteAnswer() {}

    /** What is wrong with the detail of an event of this kind, in words after "detail"; empty where nothing is. */
    public static Optional<String> wrongDetail(EventKind kind, String detail) {
        Matcher coded = IN_CODES.matcher(detail);
        if (kind != EventKind.SITE_ANSWER || !coded.matches()) {
            return Optional.empty();
        }
        String asked = coded.group(1);
        String answer = coded.group(2);
        Optional<QuestionText> question = QuestionTexts.STANDARD.of(asked);
        if (question.isPresent()) {
            return question.get().answer(answer).isPresent()
                    ? Optional.empty()
                    : Optional.of("has no answer to " + asked + ", which are "
                            + String.join(", ", question.get().answers().keySet()) + " and " + Inquiry.CANNOT_TELL
                            + ", found '" + answer + "'");
        }
        if (!isCheck(asked) && !isMeantAsQuestion(asked)) {
            return Optional.empty();
        }
        if (!isCheck(asked)) {
            return Optional.of("names no question and no check of the advice: '" + asked
                    + "'. Give question:answer, such as air-filter:was-full, or say it in words");
        }
        return OF_A_CHECK.contains(answer)
                ? Optional.empty()
                : Optional.of("has no answer to a check of the advice, such as done, in-order or cannot, found '"
                        + answer + "'");
    }

    /** What is wrong with it where it names no machine, in words after "machine"; empty where nothing is. */
    public static Optional<String> wrongWithoutMachine(EventKind kind, String detail) {
        Matcher coded = IN_CODES.matcher(detail);
        boolean isAnswer = kind == EventKind.SITE_ANSWER && coded.matches();
        return isAnswer && (isCheck(coded.group(1)) || isMeantAsQuestion(coded.group(1)))
                ? Optional.of("is missing: an answer is about one machine")
                : Optional.empty();
    }

    /** An answer to a question in words, such as "Air filter: it is clean"; empty for what is none. */
    public static Optional<String> words(EventKind kind, String detail) {
        Matcher coded = IN_CODES.matcher(detail);
        if (kind != EventKind.SITE_ANSWER || !coded.matches()) {
            return Optional.empty();
        }
        return QuestionTexts.STANDARD
                .of(coded.group(1))
                .flatMap(question -> question.answer(coded.group(2)).map(words -> question.about() + ": " + words));
    }

    /** Whether a question, or a check of the advice, begins with the same word. */
    private static boolean isMeantAsQuestion(String asked) {
        String word = firstWord(asked);
        return QuestionTexts.STANDARD.all().keySet().stream()
                        .anyMatch(id -> firstWord(id).equals(word))
                || CHECK.matcher(asked).matches()
                || isOfAdvice(asked.split("[.]", 2)[0]);
    }

    private static boolean isOfAdvice(String entry) {
        return Cause.ofCode(entry).isPresent() || Condition.ofCode(entry).isPresent();
    }

    private static String firstWord(String code) {
        return code.split("[-.]", 2)[0];
    }

    private static boolean isCheck(String asked) {
        Matcher check = CHECK.matcher(asked);
        return check.matches() && isOfAdvice(check.group(1));
    }
}
