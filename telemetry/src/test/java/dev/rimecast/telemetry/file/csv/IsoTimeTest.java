package dev.rimecast.telemetry.file.csv;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.OptionalLong;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class IsoTimeTest {

    private static OptionalLong millis(String text) {
        char[] chars = ("xx" + text + "yy").toCharArray();
        return IsoTime.parseMillis(chars, 2, text.length());
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "2026-05-04T00:00:12.010Z",
                "2026-05-04T00:00:20Z",
                "2026-05-04T00:00:20.5Z",
                "2024-02-29T23:59:59.999Z",
                "2026-05-04T02:00:12.010+02:00",
                "2026-05-04T00:00Z",
                "2026-12-31T23:59:59.123456Z",
                "1969-12-31T23:59:59.250Z",
                "0001-01-01T00:00:00Z"
            })
    void parseMillis_timeWithOffset_isWhatTheJdkReads(String text) {
        assertThat(millis(text)).hasValue(OffsetDateTime.parse(text).toInstant().toEpochMilli());
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "2026-05-04",
                "2026-05-04T00:00:12",
                "2026-05-04 00:00:12Z",
                "2026-02-29T00:00:00Z",
                "2026-13-01T00:00:00Z",
                "2026-00-10T00:00:00Z",
                "2026-05-04T24:00:01Z",
                "2026-05-04T00:60:00Z",
                "2026-05-04T00:00:60Z",
                "2026-05-0aT00:00:12Z",
                "/026-05-04T00:00:12Z",
                "20:6-05-04T00:00:12Z",
                "1777800000",
                "+10000-01-01T00:00:00Z",
                "+999999999-12-31T23:59:59Z",
                "-0001-12-31T23:59:59Z",
                "-999999999-01-01T00:00:00Z"
            })
    void parseMillis_anythingElse_isEmpty(String text) {
        assertThat(millis(text)).isEmpty();
        assertThat(IsoTime.parse(text)).isEmpty();
    }

    @Test
    void format_manyRandomTimes_readBackTheSameAndAreWhatTheJdkReads() {
        long seed = 86_400;
        Random random = new Random(seed);
        for (int i = 0; i < 100_000; i++) {
            long time = random.nextLong(-62_000_000_000_000L, 253_402_300_799_999L);
            String text = IsoTime.formatMillis(time);
            assertThat(text).as("seed " + seed).hasSize(24);
            assertThat(millis(text)).as(text).hasValue(time);
            assertThat(Instant.parse(text).toEpochMilli()).as(text).isEqualTo(time);
        }
    }
}
