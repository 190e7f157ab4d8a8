package dev.rimecast.alerts.advice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.alerts.rules.Book;
import dev.rimecast.telemetry.finding.Cause;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What a firm can and can't change in its own book of advice. */
class AdviceGuardTest {
    private static final String STANDARD = Book.ADVICE.standardText();

    @Test
    void own_standardText_isFine() {
        assertThat(Book.ADVICE.problems(STANDARD)).isEmpty();
    }

    @Test
    void own_otherChecksPartsAndMoreCautions_areFine() {
        String own = STANDARD.replaceFirst("text: \"Air filter\"", "text: \"Air filter, our size 3\"")
                .replace("Isolate the power and lock it off", "OUR LOCKS ARE RED. Isolate the power and lock it off")
                .replaceFirst("cautions: \\[dust]", "cautions: [dust, lifting]");
        assertThat(own).isNotEqualTo(STANDARD);

        AdviceText text = AdviceBook.parseOwn("mine.yaml", own).of(Cause.AIRFLOW_RESTRICTED);

        assertThat(text.parts()).anyMatch(part -> part.content().name().equals("Air filter, our size 3"));
        assertThat(text.cautions()).anyMatch(caution -> caution.startsWith("OUR LOCKS ARE RED."));
        assertThat(text.panelCautions()).anyMatch(caution -> caution.startsWith("OUR LOCKS ARE RED."));
        assertThat(text.cautions()).anyMatch(caution -> caution.startsWith("The machine is heavy"));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "a caution of panels is gone | ^  - \"Pipes after[^\\n]*\\n | | panel: lacks the standard's caution 'Pipes after",
                "a caution is softened | lock it off before a cover comes off | lock it off if you like | panel: lacks",
                "a named caution is softened | Descaler is acid: goggles and gloves. | Descaler is mild. | cautions.acid: must keep",
                "a named caution is gone | ^  lifting: [^\\n]*\\n | | cautions.lifting: is gone",
                "an entry forgets a caution | cautions: \\[dust] | cautions: [food] | causes.airflow-restricted.cautions: lacks dust",
                "a circuit is anybody's | skills: \\[refrigeration] | skills: [appliance] | skills: lacks refrigeration",
                "a rule to defer to is gone | defer: \\[maker, fittings] | defer: [maker] | defer: lacks fittings",
                "no check opens a panel | panel: true | panel: false | opens a panel here: keep one",
                "the site gets a tool | Is the room much warmer than usual | Undo the screw; is the room warmer | site: says 'screw'",
            })
    void own_withoutWhatProtects_isRefused(String what, String find, String replacement, String told) {
        String own = STANDARD.replaceAll("(?m)" + find, replacement == null ? "" : replacement);
        assertThat(own).as(what).isNotEqualTo(STANDARD);

        assertThatThrownBy(() -> AdviceBook.parseOwn("mine.yaml", own)).as(what).hasMessageContaining(told);
    }
}
