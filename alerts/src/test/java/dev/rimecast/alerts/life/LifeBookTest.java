package dev.rimecast.alerts.life;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.finding.Condition;
import java.util.Set;
import org.junit.jupiter.api.Test;

class LifeBookTest {
    private final LifeBook book = LifeBook.standard();

    @Test
    void suppression_severalCircumstances_theFirstIsSaid() {
        assertThat(book.suppression(Condition.NOT_MAKING_ICE, Set.of(Circumstance.BIN_FULL, Circumstance.SITE_CLOSED)))
                .hasValueSatisfying(found -> assertThat(found.words()).isEqualTo("the site is closed"));
        assertThat(book.suppression(Condition.HIGH_CONDENSING_TEMPERATURE, Set.of(Circumstance.values())))
                .as("what protects the machine is never suppressed")
                .isEmpty();
        assertThat(book.suppression(Condition.MACHINE_SILENT, Set.of())).isEmpty();
    }

    @Test
    void parse_unknownConditionOrMissingRule_isNamed() {
        assertThatThrownBy(() -> LifeBook.parse("mine.yaml", """
                        version: v
                        longest_shelf: 400d
                        latching: [no-such]
                        suppressed_by_design:
                          bin-full: {words: full, conditions: [low-output]}
                        """))
                .hasMessageContaining("no-such")
                .hasMessageContaining("longest_shelf")
                .hasMessageContaining("gateway-down.words");
    }
}
