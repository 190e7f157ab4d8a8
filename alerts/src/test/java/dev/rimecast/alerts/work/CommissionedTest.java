package dev.rimecast.alerts.work;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.advice.Checklist;
import dev.rimecast.alerts.advice.CommissioningBook;
import dev.rimecast.alerts.advice.MachineKind;
import dev.rimecast.alerts.work.Commissioned.Answer;
import dev.rimecast.alerts.work.Commissioned.Result;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.UUID;
import org.junit.jupiter.api.Test;

/** What a record of commissioning must say. */
class CommissionedTest {
    private static final Instant NOW = Instant.parse("2026-05-04T12:00:00Z");
    private static final Checklist LIST = CommissioningBook.standard().of(MachineKind.NOT_KNOWN);

    private static List<Answer> allOk() {
        return new ArrayList<>(LIST.items().stream()
                .map(item -> new Answer(item.id(), "", Result.OK, ""))
                .toList());
    }

    private static Commissioned of(List<Answer> answers) {
        return new Commissioned(new UUID(1, 2), NOW, answers, "", "Pim", "J-1");
    }

    private static String wrong(List<Answer> answers) {
        return of(answers)
                .wrong(LIST, NOW)
                .map(wrong -> wrong.member() + ' ' + wrong.reason())
                .orElse("");
    }

    @Test
    void record_ofEveryItemInAnyOrder_isTakenAndPutInOrderWithItsWords() {
        List<Answer> answers = allOk();
        answers.set(3, new Answer(answers.get(3).item(), "", Result.DOES_NOT_APPLY, "no valve: tank"));
        Collections.reverse(answers);

        assertThat(wrong(answers)).isEmpty();
        Commissioned worded = of(answers).wordedBy(LIST);
        assertThat(worded.answers())
                .extracting(Answer::item)
                .containsExactlyElementsOf(
                        LIST.items().stream().map(Checklist.Item::id).toList());
        assertThat(worded.answers().get(1).check()).startsWith("Isolator: Within reach");
        assertThat(worded.answers().get(3).note()).isEqualTo("no valve: tank");
    }

    @Test
    void record_withAnItemLeftOutTwiceOrUnknown_isRefused() {
        List<Answer> without = allOk();
        Answer first = without.remove(0);
        assertThat(wrong(without)).isEqualTo("answers leave out own-supply: answer every item");
        without.add(without.get(0));
        assertThat(wrong(without)).startsWith("answers[" + (without.size() - 1) + "].item is no item");
        List<Answer> foreign = allOk();
        foreign.set(2, new Answer("warp-core", "", Result.OK, ""));
        assertThat(wrong(foreign)).startsWith("answers[2].item is no item");
        assertThat(first.item()).isEqualTo("own-supply");
    }

    @Test
    void answer_thatIsNotOkOrDoesNotApply_needsANote() {
        for (Result result : List.of(Result.NOT_OK, Result.DOES_NOT_APPLY)) {
            List<Answer> answers = allOk();
            answers.set(1, new Answer("isolator", "", result, " "));
            assertThat(wrong(answers)).isEqualTo("answers[1].note is missing: say why it is " + result.code());
        }
    }
}
