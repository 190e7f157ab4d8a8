package dev.rimecast.telemetry.file.csv;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.OptionalDouble;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class DecimalsTest {

    @ParameterizedTest
    @ValueSource(
            strings = {
                "0",
                "-0",
                "1",
                "+1",
                "-6.4",
                "41.8",
                ".5",
                "5.",
                "123456789012345",
                "1234567890123456789",
                "1e3",
                "-2.5E-3",
                "0.000000000000001",
                "0.1234567890123456789",
                "9007199254740993",
                "1.7976931348623157e308"
            })
    void parse_decimal_isWhatTheJdkReads(String text) {
        assertThat(Decimals.parse(text)).isEqualTo(OptionalDouble.of(Double.parseDouble(text)));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "-",
                ".",
                "e3",
                "1e",
                "NaN",
                "Infinity",
                "0x1p3",
                "1d",
                "1 ",
                " 1",
                "1,5",
                "1_0",
                "--1",
                "1.2.3",
                "1e999"
            })
    void parse_anythingElse_isEmpty(String text) {
        assertThat(Decimals.parse(text)).isEmpty();
    }

    @Test
    void parse_manyRandomDecimals_areWhatTheJdkReads() {
        long seed = 20_260_504;
        Random random = new Random(seed);
        for (int i = 0; i < 200_000; i++) {
            String digits = Long.toString(random.nextLong(), 10).substring(0, 1 + random.nextInt(15));
            int point = random.nextInt(digits.length() + 1);
            String text = digits.substring(0, point) + '.' + digits.substring(point);
            if (text.chars().noneMatch(Character::isDigit) || text.startsWith(".-")) {
                continue;
            }
            assertThat(Decimals.parse(text))
                    .as(text + ", seed " + seed)
                    .isEqualTo(OptionalDouble.of(Double.parseDouble(text)));
        }
    }

    @Test
    void shortest_manyRandomDoubles_readBackTheSame() {
        long seed = 7;
        Random random = new Random(seed);
        for (int i = 0; i < 200_000; i++) {
            double value = i % 2 == 0 ? Double.longBitsToDouble(random.nextLong()) : random.nextInt(100_000) / 100.0;
            if (Double.isFinite(value)) {
                String text = Decimals.shortest(value);
                assertThat(Double.parseDouble(text)).as(text + ", seed " + seed).isEqualTo(value == 0 ? 0.0 : value);
                assertThat(text).as("no exponent").doesNotContain("E");
            }
        }
    }

    @ParameterizedTest
    @CsvSource({"21.375,2,21.38", "-0.001,2,0.00", "12,1,12.0", "0.9996,3,1.000", "1285.25,1,1285.3", "-6.444,2,-6.44"})
    void fixed_value_hasAllItsDecimals(double value, int decimals, String expected) {
        assertThat(Decimals.fixed(value, decimals)).isEqualTo(expected);
    }
}
