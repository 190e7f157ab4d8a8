package dev.rimecast.alerts.people;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** One-time codes against the vectors of the standards. */
class TotpTest {
    private static final byte[] SECRET = "12345678901234567890".getBytes(StandardCharsets.US_ASCII);

    /** RFC 6238 appendix B, SHA-1; codes there have eight digits, of which ours are the last six. */
    @ParameterizedTest
    @CsvSource({
        "59, 94287082",
        "1111111109, 07081804",
        "1111111111, 14050471",
        "1234567890, 89005924",
        "2000000000, 69279037",
        "20000000000, 65353130"
    })
    void code_ofTheVectorsOfRfc6238(long seconds, String eightDigits) {
        Instant at = Instant.ofEpochSecond(seconds);
        assertThat(Totp.code(SECRET, Totp.step(at))).isEqualTo(eightDigits.substring(2));
        assertThat(Totp.stepOf(SECRET, eightDigits.substring(2), at)).hasValue(seconds / 30);
    }

    /** RFC 4226 appendix D. */
    @ParameterizedTest
    @CsvSource({
        "0, 755224",
        "1, 287082",
        "2, 359152",
        "3, 969429",
        "4, 338314",
        "5, 254676",
        "6, 287922",
        "7, 162583",
        "8, 399871",
        "9, 520489"
    })
    void code_ofTheVectorsOfRfc4226(long counter, String code) {
        assertThat(Totp.code(SECRET, counter)).isEqualTo(code);
    }

    /** RFC 4648 section 10, whose padding authenticator programs do without. */
    @ParameterizedTest
    @CsvSource({"'', ''", "f, MY", "fo, MZXQ", "foo, MZXW6", "foob, MZXW6YQ", "fooba, MZXW6YTB", "foobar, MZXW6YTBOI"})
    void base32_ofTheVectorsOfRfc4648(String plain, String coded) {
        assertThat(Totp.base32(plain.getBytes(StandardCharsets.US_ASCII))).isEqualTo(coded);
    }

    @Test
    void stepOf_aStepOff_passes_twoDoNot() {
        Instant at = Instant.ofEpochSecond(1234567890);
        String code = Totp.code(SECRET, Totp.step(at));
        assertThat(Totp.stepOf(SECRET, code, at.plusSeconds(30))).hasValue(Totp.step(at));
        assertThat(Totp.stepOf(SECRET, code, at.minusSeconds(30))).hasValue(Totp.step(at));
        assertThat(Totp.stepOf(SECRET, code, at.plusSeconds(60))).isEmpty();
        assertThat(Totp.stepOf(SECRET, code, at.minusSeconds(60))).isEmpty();
        assertThat(Totp.stepOf(SECRET, "", at)).isEmpty();
    }
}
