package dev.rimecast.alerts.consume;

import static org.assertj.core.api.Assertions.assertThat;

import io.micrometer.core.instrument.Timer;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;

class ReadingToAlertTest {
    private static final Instant NOW = Instant.parse("2026-05-04T12:00:00Z");

    private final SimpleMeterRegistry meters = new SimpleMeterRegistry();
    private final ReadingToAlert readingToAlert = new ReadingToAlert(meters, () -> NOW);

    private Timer timer() {
        return meters.get("rimecast.alerts.reading.to.alert").timer();
    }

    private double upTo(Duration bound) {
        return Arrays.stream(timer().takeSnapshot().histogramCounts())
                .filter(bucket -> bucket.bucket(TimeUnit.MILLISECONDS) == bound.toMillis())
                .findFirst()
                .orElseThrow()
                .count();
    }

    @Test
    void raised_countsTheTimeSinceItsRecordWasWritten_inItsBucketAndThoseAbove() {
        readingToAlert.raised(NOW.minusMillis(300));
        readingToAlert.raised(NOW.minusSeconds(20));
        readingToAlert.raised(NOW.minus(Duration.ofDays(1)));

        assertThat(timer().count()).isEqualTo(3);
        assertThat(upTo(Duration.ofMillis(500))).isEqualTo(1);
        assertThat(upTo(Duration.ofSeconds(10))).isEqualTo(1);
        assertThat(upTo(Duration.ofMinutes(1))).isEqualTo(2);
        assertThat(upTo(Duration.ofHours(2))).as("a day is above every bound").isEqualTo(2);
    }

    @Test
    void raised_byAClockThatIsAhead_countsAsAtOnce() {
        readingToAlert.raised(NOW.plusSeconds(5));

        assertThat(timer().totalTime(TimeUnit.SECONDS)).isZero();
        assertThat(upTo(Duration.ofMillis(500))).isEqualTo(1);
    }
}
