package dev.rimecast.dashboard.http;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class TableCellTest {
    /** The first characters that OWASP's page on CSV injection names. */
    @ParameterizedTest
    @ValueSource(strings = {"=1+1", "+cmd|' /C calc'!A0", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "-", "=", "+31 20 555"})
    void textThatBeginsAsAFormula_isMarkedAsText(String text) {
        assertThat(TableCell.safe(text)).isEqualTo("'" + text);
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "-12.5", "+3", "ice-1", "J-77", "a=b", "2026-05-04T12:00:00.000Z", "'quoted"})
    void numbersAndOtherText_stayAsTheyAre(String text) {
        assertThat(TableCell.safe(text)).isEqualTo(text);
    }
}
