package dev.rimecast.telemetry.yaml;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class DurationTextTest {

    @ParameterizedTest
    @CsvSource({"250ms,PT0.25S", "90s,PT90S", "15m,PT15M", "1h30m,PT90M", "30d,PT720H", "0s,PT0S"})
    void parse_textWithUnits_givesDuration(String text, Duration expected) {
        assertThat(DurationText.parse(text)).contains(expected);
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "5", "5 m", "m", "-5m", "1.5h", "5M", "99999999999s"})
    void parse_anythingElse_isEmpty(String text) {
        assertThat(DurationText.parse(text)).isEmpty();
    }

    @Test
    void format_duration_isShortestAndParsesBack() {
        Duration duration = Duration.ofDays(2).plusMinutes(3).plusMillis(40);

        assertThat(DurationText.format(duration)).isEqualTo("2d3m40ms");
        assertThat(DurationText.parse("2d3m40ms")).contains(duration);
        assertThat(DurationText.format(Duration.ofSeconds(90))).isEqualTo("1m30s");
    }
}
