package dev.rimecast.app;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.advice.QuestionText;
import dev.rimecast.alerts.advice.QuestionTexts;
import dev.rimecast.analytics.question.Answers;
import dev.rimecast.analytics.question.QuestionBook;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** What analytics may ask has its sentences in alerts, and nothing else has. */
class QuestionsInStepTest {

    @Test
    void questions_ofBothFiles_haveTheSameIdsAndAnswersInTheSameOrder() {
        Map<String, List<String>> sentences = new TreeMap<>();
        QuestionTexts.STANDARD
                .all()
                .forEach((id, text) ->
                        sentences.put(id, new ArrayList<>(text.answers().keySet())));

        assertThat(sentences).containsExactlyEntriesOf(new TreeMap<>(QuestionBook.answersOfAll()));
    }

    @Test
    void questions_ofBothFiles_agreeOnWhatPutsSomethingRight() {
        Set<String> here = new TreeSet<>();
        QuestionTexts.STANDARD
                .all()
                .values()
                .forEach(text -> text.putsRight().forEach(answer -> here.add(text.id() + ':' + answer)));
        Set<String> there = new TreeSet<>();
        QuestionBook.answersOfAll()
                .forEach((id, answers) -> answers.stream()
                        .map(answer -> id + ':' + answer)
                        .filter(Answers::putsRight)
                        .forEach(there::add));

        assertThat(here).isEqualTo(there).isNotEmpty();
    }

    @Test
    void questions_ofBothFiles_agreeOnWhatNeedsARunningMachine() {
        Set<String> here = QuestionTexts.STANDARD.all().values().stream()
                .filter(QuestionText::needsRunning)
                .map(QuestionText::id)
                .collect(Collectors.toSet());

        assertThat(here).isEqualTo(QuestionBook.needRunning()).contains("air-blows", "hot-gas-line-in-harvest");
    }

    @Test
    void questions_ofBothFiles_areForTheSamePeople() {
        Map<String, String> people = new TreeMap<>();
        QuestionTexts.STANDARD.all().values().stream()
                .filter(QuestionText::isForSite)
                .forEach(text -> people.put(text.id(), text.who()));

        assertThat(people.keySet()).containsExactlyElementsOf(new TreeMap<>(QuestionBook.answersOfSite()).keySet());
    }
}
