package dev.rimecast.telemetry.cycle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.telemetry.cycle.Acceptance.Probes;
import dev.rimecast.telemetry.cycle.Acceptance.Rating;
import dev.rimecast.telemetry.cycle.Acceptance.Reason;
import dev.rimecast.telemetry.cycle.Acceptance.Shown;
import dev.rimecast.telemetry.cycle.Acceptance.Verdict;
import dev.rimecast.telemetry.finding.Condition;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

class RatedYieldTest {

    @Test
    void kgPerDay_atTheRatingConditions_isTheRating() {
        // AHRI 810: air of 90 °F, water of 70 °F (from memory)
        assertThat(RatedYield.kgPerDay(50, (90 - 32) / 1.8, (70 - 32) / 1.8)).isCloseTo(50, within(0.05));
    }

    @Test
    void kgPerDay_at70And50Fahrenheit_is15To25PercentMore() {
        // makers' tables for 70/50 °F against 90/70 °F (from memory)
        assertThat(RatedYield.kgPerDay(50, (70 - 32) / 1.8, (50 - 32) / 1.8)).isBetween(50 * 1.15, 50 * 1.25);
    }

    @Test
    void kgPerDay_overTheRange_goesWithTheLumpedModel() {
        // kg in 24 h of the lumped model of the trade notes at (ambient, water); it is not validated on a machine
        double[][] table = {{21, 15, 62.2}, {25, 15, 60.4}, {32.2, 21.1, 54.2}, {38, 25, 49.5}, {43, 30, 45.0}};
        for (double[] row : table) {
            assertThat(RatedYield.kgPerDay(54.2, row[0], row[1])).isCloseTo(row[2], within(0.05 * row[2]));
        }
    }

    @Test
    void decode_encodedAcceptance_givesTheAcceptance() {
        Acceptance whole = new Acceptance(
                Reason.MOVED,
                Instant.parse("2026-05-04T00:00:12.010Z"),
                11,
                Verdict.NOT_ACCEPTED,
                Probes.TOLD_APART,
                OptionalDouble.of(24.25),
                OptionalDouble.empty(),
                List.of(new Shown(Feature.SPLIT, 26.5, 15, 7, 23, 10, Verdict.NOT_ACCEPTED)),
                Optional.of(new Rating(50, 55.5, 54, Verdict.ACCEPTED)),
                List.of(Condition.AMBIENT_OUT_OF_RANGE),
                true,
                "Not accepted.");

        assertThat(AcceptanceJson.decode(AcceptanceJson.encode(whole))).isEqualTo(whole);
    }
}
