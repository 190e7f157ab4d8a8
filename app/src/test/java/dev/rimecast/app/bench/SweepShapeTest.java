package dev.rimecast.app.bench;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.dashboard.bench.Bench;
import dev.rimecast.dashboard.bench.Run;
import dev.rimecast.history.backtest.Judged;
import dev.rimecast.history.backtest.Window;
import dev.rimecast.history.tune.Sweep;
import dev.rimecast.history.tune.Tuning;
import dev.rimecast.history.tune.Variant;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SweepShapeTest {
    private static final String PATH = "change.clear_hours";
    private static final Instant FROM = Instant.parse("2026-03-01T00:00:00Z");
    private static final Judged NOTHING = new Judged(List.of(), List.of(), List.of(), List.of(), List.of(), 0, 0, 0, 1);

    private static List<Variant> variants() {
        return Variant.of(Policy.standard(), List.of(new Sweep(PATH, List.of(24.0, 36.0))));
    }

    private static Run.Sweep sweep(int cheapest, int choice, int best, double unsure) {
        Tuning tuning = new Tuning(
                variants(),
                List.of(NOTHING, NOTHING, NOTHING),
                List.of(300.0, 200.0, 250.0),
                cheapest,
                choice,
                best,
                290,
                unsure,
                Map.of(choice, 5),
                5,
                Optional.empty());
        Window window = new Window(FROM, FROM.plusSeconds(86_400));
        return SweepShape.of(tuning, List.of(PATH), new Bench.Costs(150, 600, 1), window, 1, 0, "And more.");
    }

    /** The cheapest is the cheapest, whatever is proposed. */
    @ParameterizedTest
    @CsvSource({"0, 0, 0, none-cheaper", "1, 0, 0, within-error", "1, 2, 0, not-held", "1, 2, 2, proposed"})
    void whatIsProposed_isWhatTuneWrites_withItsReason(int cheapest, int choice, int best, String outcome) {
        Run.Sweep sweep = sweep(cheapest, choice, best, 20);

        assertThat(sweep.best()).isEqualTo(cheapest);
        assertThat(sweep.choice()).isEqualTo(choice);
        assertThat(sweep.proposed()).isEqualTo(best);
        assertThat(sweep.outcome()).isEqualTo(outcome);
        assertThat(sweep.unsure()).hasValue(20);
        assertThat(sweep.points()).extracting(Run.Point::value).containsExactly(48.0, 24.0, 36.0);
        assertThat(sweep.policy())
                .as("what would be put into force")
                .isEqualTo(variants().get(best).policy().yaml());
        assertThat(sweep.report())
                .contains("The policy as it is: standard-1.", "clear_hours 24", "And more.")
                .contains(best == 0 ? "Proposed: nothing." : "change.clear_hours: 36");
    }

    /** In the product's policy they are 48 h and 65 °C: that combination is the policy as it is, and stands once. */
    @Test
    void twoNumbers_areEveryCombinationThatIsAnother() {
        List<Variant> variants = PastWork.variants(
                Policy.standard(),
                List.of(
                        new Sweep(PATH, List.of(24.0, 48.0)),
                        new Sweep("limits.condensing_celsius", List.of(65.0, 60.0))));
        Tuning tuning = new Tuning(
                variants,
                List.of(NOTHING, NOTHING, NOTHING, NOTHING),
                List.of(1.0, 1.0, 1.0, 1.0),
                0,
                0,
                0,
                1,
                1,
                Map.of(0, 1),
                1,
                Optional.empty());

        Run.Sweep sweep = SweepShape.of(
                tuning,
                List.of(PATH, "limits.condensing_celsius"),
                new Bench.Costs(150, 600, 1),
                new Window(FROM, FROM.plusSeconds(86_400)),
                1,
                0,
                "");

        assertThat(sweep.second()).contains("limits.condensing_celsius");
        assertThat(sweep.points())
                .extracting(point -> point.value() + " " + point.second().orElseThrow())
                .containsExactly("48.0 65.0", "24.0 65.0", "24.0 60.0", "48.0 60.0");
    }

    @ParameterizedTest
    @CsvSource("Infinity")
    void errorThatNobodyKnows_isLeftOut(double unsure) {
        assertThat(sweep(0, 0, 0, unsure).unsure()).isEmpty();
    }
}
