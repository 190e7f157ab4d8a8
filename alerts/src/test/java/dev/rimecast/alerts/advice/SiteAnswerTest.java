package dev.rimecast.alerts.advice;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.log.EventKind;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class SiteAnswerTest {
    @Test
    void everyQuestion_everyAnswerOfIts_isTakenAndHasWords() {
        assertThat(QuestionTexts.STANDARD.all()).isNotEmpty();
        QuestionTexts.STANDARD.all().forEach((id, text) -> {
            text.answers().forEach((code, words) -> {
                assertThat(SiteAnswer.wrongDetail(EventKind.SITE_ANSWER, id + ':' + code))
                        .isEmpty();
                assertThat(SiteAnswer.words(EventKind.SITE_ANSWER, id + ':' + code))
                        .contains(text.about() + ": " + words);
            });
            assertThat(SiteAnswer.wrongDetail(EventKind.SITE_ANSWER, id + ":cannot-tell"))
                    .isEmpty();
        });
    }

    /** Every check that a link can ask is one that can be reported, too. */
    @Test
    void everyCheckOfTheAdvice_isTaken() {
        AdviceBookTest.everyEntry().forEach(entry -> {
            for (int place = 1; place <= entry.siteChecks().size(); place++) {
                assertThat(SiteAnswer.wrongDetail(EventKind.SITE_ANSWER, entry.about() + '.' + place + ":done"))
                        .isEmpty();
            }
        });
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "air-filter:was-fool|has no answer to air-filter, which are was-full, clean, none-there and cannot-tell",
                "air-filtre:clean|names no question and no check of the advice: 'air-filtre'",
                "airflow-restricted.2:fine|has no answer to a check",
                "airflow.2:done|names no question",
                "airflow-restricted.0:done|names no question",
            })
    void codesThatAreNone_sayWhy(String detail, String says) {
        assertThat(SiteAnswer.wrongDetail(EventKind.SITE_ANSWER, detail).orElse(""))
                .contains(says);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "done",
                "The filter: it was full.",
                "no ice since Monday",
                "Filter:clean",
                "at 10:30",
                "10:30",
                "status:ok",
                "filter:clean"
            })
    void words_areKept_andAreAboutNoQuestion(String detail) {
        assertThat(SiteAnswer.wrongDetail(EventKind.SITE_ANSWER, detail)).isEmpty();
        assertThat(SiteAnswer.words(EventKind.SITE_ANSWER, detail)).isEmpty();
        assertThat(SiteAnswer.wrongWithoutMachine(EventKind.SITE_ANSWER, detail))
                .isEmpty();
    }

    @Test
    void codes_needAMachine_andOnlyThose() {
        assertThat(SiteAnswer.wrongWithoutMachine(EventKind.SITE_ANSWER, "air-filter:clean"))
                .isPresent();
        assertThat(SiteAnswer.wrongWithoutMachine(EventKind.VISIT, "air-filter:clean"))
                .isEmpty();
        assertThat(SiteAnswer.wrongDetail(EventKind.PART_REPLACED, "fan:new")).isEmpty();
    }
}
