package dev.rimecast.alerts.view;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class WritingTest {
    @ParameterizedTest
    @ValueSource(strings = {"", "Zoë rang at 7\u00a0am", "two\nlines\tand\r\nmore", "製氷機 \ud83e\uddca"})
    void canBeKept_whatPeopleWrite(String text) {
        assertThat(Writing.canBeKept(text)).isTrue();
    }

    @ParameterizedTest
    @ValueSource(strings = {"a\u0000b", "\u001b[31m", "\u0085", "half \ud83e", "\uddca half"})
    void canBeKept_whatTripsADatabaseOrATerminal_isNot(String text) {
        assertThat(Writing.canBeKept(text)).isFalse();
    }
}
