package dev.rimecast.history.backtest;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class MedianLeadTest {
    /** Order statistics of the binomial with a half (Conover 1999, table A3): of 10 the 2nd and 9th, of 20 the 6th and 15th. */
    @ParameterizedTest
    @CsvSource({"4, 0, 0", "5, 1, 5", "10, 2, 9", "20, 6, 15", "2000, 963, 1038"})
    void medianLead_liesBetweenTwoOfTheLeads(int problems, int low, int high) {
        Judged judged = new Judged(
                IntStream.rangeClosed(1, problems)
                        .mapToObj(MedianLeadTest::known)
                        .toList(),
                List.of(),
                List.of(),
                List.of(),
                List.of(),
                0,
                0,
                0,
                1);

        assertThat(judged.medianLeadInterval().map(ends -> List.of((int) ends[0], (int) ends[1])))
                .isEqualTo(low == 0 ? Optional.empty() : Optional.of(List.of(low, high)));
    }

    /** A problem that was known so many hours before its time. */
    private static Judged.Problem known(int hours) {
        Instant from = Instant.parse("2026-05-01T00:00:00Z");
        AlertRow alert = new AlertRow(
                "a",
                Optional.of("ice-1"),
                Condition.SLOW_PULL_DOWN,
                Stage.EARLY,
                Priority.LOW,
                from,
                Optional.empty(),
                List.of(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                "");
        return new Judged.Problem(
                Optional.of("ice-1"),
                Optional.empty(),
                Optional.empty(),
                from,
                from.plus(Duration.ofHours(hours)),
                false,
                Optional.of(alert));
    }
}
