package dev.rimecast.app.bench;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.view.Mark;
import dev.rimecast.alerts.view.Mark.Verdict;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.Labels;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class MarkedPastTest {
    /** Not on a whole second, as those that people make from an alert. */
    private static final Instant FROM = Instant.parse("2026-05-01T06:30:00.123456Z");

    private static Mark mark(String machine, Verdict verdict, Optional<Cause> cause) {
        return new Mark(
                UUID.randomUUID(),
                new Mark.Said(
                        machine,
                        "north",
                        Optional.empty(),
                        FROM,
                        FROM.plus(Duration.ofDays(2)),
                        verdict,
                        cause,
                        "a note, with a comma"),
                FROM.plus(Duration.ofDays(3)),
                "Ana",
                Mark.State.STANDING,
                Optional.empty());
    }

    /** The file's rules hold: what is about a machine that no register has is left out and named. */
    @Test
    void marks_areKnownOfThePast_asFromTheirFile() {
        Decided.Span heard = new Decided.Span(FROM.minus(Duration.ofDays(30)), FROM.plus(Duration.ofDays(30)));
        Decided decided = new Decided(
                List.of(Machine.basic("ice-1", "north", "gw")), Map.of("ice-1", heard), List.of(), List.of(), 0, 0);

        Labels labels = MarkedPast.labels(
                decided,
                List.of(
                        mark("ice-1", Verdict.REAL, Optional.of(Cause.SCALE)),
                        mark("ice-1", Verdict.NOT, Optional.empty()),
                        mark("ice-1", Verdict.UNKNOWN, Optional.empty()),
                        mark("ice-gone", Verdict.NOT, Optional.empty())));

        assertThat(labels.marks()).isEqualTo(3);
        assertThat(labels.unknown()).containsExactly("ice-gone");
        assertThat(MarkedPast.labels(decided, List.of()).marks()).isZero();
    }
}
