package dev.rimecast.dashboard.json;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.advice.AdviceBook;
import dev.rimecast.alerts.advice.MachineKind;
import dev.rimecast.alerts.advice.QuestionText;
import dev.rimecast.alerts.advice.QuestionTexts;
import dev.rimecast.alerts.view.Advice;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class QuestionJsonTest {
    private static final AdviceBook BOOK = AdviceBook.standard();

    /** Whatever the advice beside it opens, if anything. */
    @ParameterizedTest
    @EnumSource(Condition.class)
    void everyQuestion_besideAnyAdvice_hasTheCautionsOfPanelsWhereItOpensOne(Condition condition) {
        Advice advice = BOOK.adviceFor(finding(condition), MachineKind.NOT_KNOWN, Optional.empty());
        assertThat(QuestionTexts.STANDARD.all().values())
                .anyMatch(QuestionText::opensPanel)
                .allSatisfy(text -> {
                    Inquiry inquiry =
                            new Inquiry(List.of(), Optional.of(new Inquiry.Next(text.id(), 0.5, List.of())), List.of());
                    String cautions = String.join(
                            " ", QuestionJson.of(inquiry, advice).orElseThrow().cautions());
                    if (text.opensPanel()) {
                        assertThat(cautions)
                                .contains(
                                        "Isolate the power",
                                        "lock it off",
                                        "stop tap",
                                        "Fan and pump",
                                        "sharp",
                                        "60 °C",
                                        "A3");
                    } else {
                        assertThat(cautions).isEmpty();
                    }
                });
    }

    private static Finding finding(Condition condition) {
        Instant noon = Instant.parse("2026-05-04T12:00:00Z");
        return new Finding(
                Finding.idOf("ice-0001", condition, noon),
                1,
                Step.RAISED,
                "site-a",
                Optional.of("ice-0001"),
                Optional.empty(),
                condition,
                Stage.EARLY,
                Priority.MEDIUM,
                noon,
                noon,
                List.of(),
                Optional.empty(),
                Optional.empty(),
                "Something was seen.",
                "detector-1",
                "policy-1");
    }
}
