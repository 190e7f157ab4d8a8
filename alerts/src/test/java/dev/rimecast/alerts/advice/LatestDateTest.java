package dev.rimecast.alerts.advice;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.life.Findings;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Lead times: common practice of the trade (24 h, 72 h, two weeks, next planned visit). */
class LatestDateTest {

    @Test
    void urgent_withoutForecast_isADay() {
        assertThat(latest(Stage.EARLY, Priority.URGENT, Optional.empty())).contains(NOON.plus(Duration.ofHours(24)));
    }

    @Test
    void stopped_anyPriority_isADay() {
        assertThat(latest(Stage.STOPPED, Priority.LOW, Optional.empty())).contains(NOON.plus(Duration.ofHours(24)));
    }

    @Test
    void high_withoutForecast_isThreeDays() {
        assertThat(latest(Stage.EARLY, Priority.HIGH, Optional.empty())).contains(NOON.plus(Duration.ofHours(72)));
    }

    @Test
    void mediumAtTheLimit_withoutForecast_isThreeDays() {
        assertThat(latest(Stage.AT_LIMIT, Priority.MEDIUM, Optional.empty())).contains(NOON.plus(Duration.ofHours(72)));
    }

    @Test
    void medium_withoutForecast_isTwoWeeks() {
        assertThat(latest(Stage.EARLY, Priority.MEDIUM, Optional.empty())).contains(NOON.plus(Duration.ofDays(14)));
    }

    @Test
    void low_withoutForecast_waitsForTheNextVisit() {
        assertThat(latest(Stage.EARLY, Priority.LOW, Optional.empty())).isEmpty();
    }

    @Test
    void mediumEarly_forecastInAMonth_isItsEarlyEnd() {
        assertThat(latest(Stage.EARLY, Priority.MEDIUM, Optional.of(NOON.plus(Duration.ofDays(30)))))
                .contains(NOON.plus(Duration.ofDays(30)));
    }

    @Test
    void high_forecastLaterOrSooner_isWhicheverComesFirst() {
        assertThat(latest(Stage.EARLY, Priority.HIGH, Optional.of(NOON.plus(Duration.ofDays(30)))))
                .contains(NOON.plus(Duration.ofHours(72)));
        assertThat(latest(Stage.EARLY, Priority.HIGH, Optional.of(NOON.plus(Duration.ofHours(5)))))
                .contains(NOON.plus(Duration.ofHours(5)));
    }

    private static Optional<Instant> latest(Stage stage, Priority priority, Optional<Instant> early) {
        Finding plain = Findings.finding(
                "ice-0001", Condition.RISING_CONDENSING_TEMPERATURE, NOON, 1, Step.RAISED, stage, priority);
        Optional<LimitExpected> limit =
                early.map(e -> new LimitExpected(e.plus(Duration.ofDays(2)), e, e.plus(Duration.ofDays(9))));
        return LatestDate.of(Findings.withLimit(plain, limit), NOON);
    }
}
