package dev.rimecast.app.bench;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.dashboard.bench.Run;
import dev.rimecast.history.backtest.Judged;
import dev.rimecast.history.backtest.SideBySide;
import dev.rimecast.telemetry.finding.Cause;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class SidesShapeTest {
    private static final Instant FROM = Instant.parse("2026-05-01T00:00:00Z");

    private static Judged.Problem missed(String machine, Optional<Cause> cause) {
        return new Judged.Problem(
                Optional.of(machine),
                Optional.empty(),
                cause,
                FROM,
                FROM.plus(Duration.ofDays(30)),
                false,
                Optional.empty());
    }

    private static SideBySide sides(List<Judged.Problem> problems) {
        Judged judged = new Judged(problems, List.of(), List.of(), List.of(), List.of(), 0, 0, 1, 1);
        return SideBySide.of(List.of(judged, judged));
    }

    @Test
    void missedProblem_hasItsMachineItsCauseAndItsPlots() {
        SideBySide sides = sides(List.of(missed("ice-1", Optional.of(Cause.SCALE)), missed("ice-2", Optional.empty())));
        Run.Sums one = new Run.Sums(1, 0, 0, 0, 0, 0, 0, 0);
        Run.Plots plots = new Run.Plots("ice-1", FROM.plus(Duration.ofDays(30)));

        assertThat(SidesShape.byMachine(sides))
                .contains(new Run.MachineSides("ice-1", false, one, one, Optional.of(plots)))
                .hasSize(2);
        assertThat(SidesShape.byCause(sides)).extracting(Run.CauseSides::cause).containsExactly("scale", "");
        assertThat(SidesShape.byCause(sides).get(0).plots()).containsExactly(plots);
        assertThat(SidesShape.byCause(sides).get(0).currentShare())
                .as("Wilson, 90 %, of none of one")
                .hasValueSatisfying(share -> assertThat(share.high()).isBetween(0.729, 0.731));
        assertThat(SidesShape.causes(sides))
                .as("only causes that are known")
                .extracting(Run.OfCause::cause)
                .containsExactly("scale");
    }

    @Test
    void largeFleet_isListedAsFarAsDifferencesAre() {
        SideBySide sides = sides(IntStream.range(0, 400)
                .mapToObj(i -> missed("ice-" + i, Optional.empty()))
                .toList());

        assertThat(sides.machines()).hasSize(400);
        assertThat(SidesShape.byMachine(sides)).hasSize(Shapes.MOST_LISTED);
    }
}
