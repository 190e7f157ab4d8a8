package dev.rimecast.alerts.inquiry;

import dev.rimecast.alerts.advice.QuestionText;
import dev.rimecast.alerts.advice.QuestionTexts;
import dev.rimecast.alerts.view.Advice;
import dev.rimecast.alerts.view.Advice.SiteCheck;
import dev.rimecast.alerts.view.Advice.Told;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.SiteCheckView.Check;
import dev.rimecast.alerts.view.SiteCheckView.Choice;
import dev.rimecast.alerts.view.SiteLinkView.Answered;
import dev.rimecast.telemetry.finding.Stage;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * What the site is best asked next: the questions that the findings ask of the site, best first; where they ask none, the
 * checks of the advice, in its order.
 */
final class NextCheck {
    static final String CANNOT = "cannot";
    /** Analytics starts to count good cycles after this one only. */
    private static final String DONE = "done";

    private static final Map<Told, List<Choice>> CHOICES = Map.of(
            Told.MENDED,
            List.of(
                    new Choice(DONE, "done, I have put it right", true),
                    new Choice("in-order", "it was in order already", false),
                    new Choice(CANNOT, "I can't do this", false)),
            Told.YES_OR_NO,
            List.of(
                    new Choice("yes", "yes", false),
                    new Choice("no", "no", false),
                    new Choice(CANNOT, "I can't tell", false)),
            Told.LOOKED,
            List.of(new Choice("looked", "I have looked", false), new Choice(CANNOT, "I can't tell", false)));

    private static final int ABOUT_WORDS = 5;

    private NextCheck() {}

    /**
     * What only a machine that makes ice can answer is not asked of one that stands.
     *
     * @param open alerts of the machine that are not over, the most urgent first
     * @param isKnownToStand by what it told last, or its site; else the alerts alone say so
     */
    static Optional<Check> of(List<AlertView> open, List<Answered> answers, boolean isKnownToStand) {
        boolean stands = isKnownToStand
                || open.stream().anyMatch(alert -> alert.finding().stage() == Stage.STOPPED);
        Set<String> asked = answers.stream().map(Answered::check).collect(Collectors.toSet());
        boolean isAskingQuestions = answers.stream()
                .anyMatch(answer -> QuestionTexts.STANDARD.of(answer.check()).isPresent());
        Optional<Check> question = open.stream()
                .flatMap(alert -> alert.finding().inquiry().ofSite().stream())
                .filter(id -> !asked.contains(id))
                .flatMap(id -> QuestionTexts.STANDARD.of(id).stream())
                .filter(QuestionText::isForSite)
                .filter(text -> !stands || !text.needsRunning())
                .findFirst()
                .map(NextCheck::question);
        return question.isPresent() || isAskingQuestions ? question : advised(open, asked, stands);
    }

    /**
     * A question of the site that may have been shown a moment ago, while the findings ask another one first by now: an
     * answer to it tells what it tells. Empty where it was answered already, or is none.
     */
    static Optional<Check> shownBefore(String id, List<Answered> answers) {
        return QuestionTexts.STANDARD
                .of(id)
                .filter(QuestionText::isForSite)
                .filter(text ->
                        answers.stream().noneMatch(answer -> answer.check().equals(id)))
                .map(NextCheck::question);
    }

    private static Check question(QuestionText text) {
        List<Choice> choices = new ArrayList<>();
        text.answers()
                .forEach((code, words) ->
                        choices.add(new Choice(code, words, text.putsRight().contains(code))));
        choices.add(new Choice(CANNOT, "I can't do this, or can't tell", false));
        return new Check(text.id(), text.about(), text.ask(), choices);
    }

    private static Optional<Check> advised(List<AlertView> open, Set<String> asked, boolean stands) {
        for (AlertView alert : open) {
            Advice advice = alert.advice();
            for (int i = 0; i < advice.siteChecks().size(); i++) {
                String id = advice.about() + '.' + (i + 1);
                SiteCheck check = advice.siteChecks().get(i);
                if (!asked.contains(id) && !(stands && check.needsRunning())) {
                    return Optional.of(new Check(
                            id, about(check.ask()), check.ask(), CHOICES.getOrDefault(check.told(), List.of())));
                }
            }
        }
        return Optional.empty();
    }

    /** The first words of a check, to call it by. */
    private static String about(String ask) {
        String[] words = ask.replaceAll("[?.:;].*", "").split(" ");
        String first = java.util.Arrays.stream(words).limit(ABOUT_WORDS).collect(Collectors.joining(" "));
        return words.length > ABOUT_WORDS ? first + " …" : first;
    }
}
