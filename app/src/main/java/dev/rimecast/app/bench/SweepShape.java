package dev.rimecast.app.bench;

import dev.rimecast.dashboard.bench.Bench;
import dev.rimecast.dashboard.bench.Run;
import dev.rimecast.history.backtest.Judged;
import dev.rimecast.history.backtest.Window;
import dev.rimecast.history.tune.Costs;
import dev.rimecast.history.tune.TuneText;
import dev.rimecast.history.tune.Tuning;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;

/** A sweep as the page shows it: each value, and what is proposed, as {@code tune} says it. */
final class SweepShape {
    private SweepShape() {}

    /**
     * Puts it together.
     *
     * @param paths of the number that was tried, or of both
     * @param years machine-years that are judged
     * @param marks of analysts against which alerts were held
     * @param more what the report says besides
     */
    static Run.Sweep of(
            Tuning tuning, List<String> paths, Bench.Costs costs, Window window, double years, int marks, String more) {
        String path = paths.get(0);
        Optional<String> second = paths.stream().skip(1).findFirst();
        List<Run.Point> points = new ArrayList<>();
        for (int i = 0; i < tuning.variants().size(); i++) {
            Judged judged = tuning.judged().get(i);
            points.add(new Run.Point(
                    value(tuning, i, path),
                    tuning.costs().get(i),
                    PastWork.figures(judged),
                    years > 0 ? judged.counted() / years : 0,
                    tuning.isOnFrontier(i),
                    second.isPresent() ? OptionalDouble.of(value(tuning, i, second.get())) : OptionalDouble.empty()));
        }
        return new Run.Sweep(
                path,
                costs,
                window.from(),
                window.to(),
                years,
                points,
                tuning.cheapest(),
                tuning.choice(),
                tuning.best(),
                outcome(tuning),
                tuning.unseen(),
                Double.isFinite(tuning.unsure()) ? OptionalDouble.of(tuning.unsure()) : OptionalDouble.empty(),
                tuning.parts(),
                marks,
                tuning.variants().get(tuning.best()).policy().yaml(),
                String.format(
                                Locale.ROOT,
                                "The policy as it is: %s.%nJudged: %s to %s%n%n",
                                tuning.variants().get(0).policy().version(),
                                window.from(),
                                window.to())
                        + TuneText.of(tuning, new Costs(costs.visit(), costs.stop(), costs.late()), years)
                        + more,
                second);
    }

    private static double value(Tuning tuning, int variant, String path) {
        Double changed = tuning.variants().get(variant).changed().get(path);
        return changed == null ? PastWork.now(tuning.variants().get(0).policy(), path) : changed;
    }

    private static String outcome(Tuning tuning) {
        return switch (tuning.outcome()) {
            case NONE_CHEAPER -> "none-cheaper";
            case WITHIN_ERROR -> "within-error";
            case NOT_HELD -> "not-held";
            case NOT_OVER_TIME -> "not-over-time";
            case PROPOSED -> "proposed";
        };
    }
}
