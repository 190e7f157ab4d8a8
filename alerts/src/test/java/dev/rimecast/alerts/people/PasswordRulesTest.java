package dev.rimecast.alerts.people;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** NIST SP 800-63B, 3.1.1.2 of revision 4: length, a list of what is expected, no rules of composition. */
class PasswordRulesTest {
    private final PasswordRules rules = new PasswordRules();

    /** Common ones of twelve characters and more, repetition, sequences, and what is expected here. */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "passwordpassword",
                "password1234",
                "123456789012",
                "qwertyuiop12",
                "aaaaaaaaaaaaaaaa",
                "abcabcabcabcabc",
                "1qaz2wsx3edc",
                "Rimecast2026",
                "noor.haddad1"
            })
    void problem_amongTheFirstTried_isRefused(String password) {
        assertThat(rules.problem(password, "noor.haddad"))
                .hasValueSatisfying(said -> assertThat(said).contains("first that are tried"));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {"four words of nothing", "zwölf schräge Töne", "xk3 vqp lmw zzt", "ice cream at the station 7"})
    void problem_longAndUnexpected_isTakenWithoutRulesOfComposition(String password) {
        assertThat(rules.problem(password, "noor")).isEmpty();
    }

    @Test
    void problem_tooShortOrTooLong_saysHowLong() {
        assertThat(rules.problem("zq mfk 71 p", "noor"))
                .hasValueSatisfying(said -> assertThat(said).contains("at least 12", "has 11"));
        assertThat(rules.problem("zq mfk 71 pw", "noor")).isEmpty();
        assertThat(rules.problem("zq ".repeat(43), "noor"))
                .hasValueSatisfying(said -> assertThat(said).contains("at most 128"));
    }

    /** One person's keyboard sends ö as one character, another's as two: Unicode NFKC. */
    @Test
    void normal_sameCharactersTypedOtherwise_areTheSame() {
        assertThat(PasswordRules.normal("To\u0308ne")).isEqualTo("T\u00f6ne");
    }
}
