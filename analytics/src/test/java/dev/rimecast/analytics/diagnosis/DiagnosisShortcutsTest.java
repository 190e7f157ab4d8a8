package dev.rimecast.analytics.diagnosis;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** A diagnosis leaves out what can't be the best; it has to come to the same, to the last bit, as one that tries everything. */
class DiagnosisShortcutsTest {
    private static final long SEED = 20_261_130;
    private static final int CASES = 400;

    private final Random random = new Random(SEED);

    private Observed observed() {
        Map<Feature, Observed.Level> levels = new EnumMap<>(Feature.class);
        for (Feature feature : Feature.values()) {
            if (random.nextInt(5) > 0) {
                double unit = feature == Feature.SPLIT || feature == Feature.EVAPORATOR_END ? 10 : 1;
                levels.put(
                        feature,
                        new Observed.Level(
                                unit * 0.3 * random.nextGaussian(),
                                unit * (0.005 + 0.05 * random.nextDouble()),
                                unit * (0.03 + 0.1 * random.nextDouble()),
                                unit * (0.02 + 0.05 * random.nextDouble())));
            }
        }
        Feature about = Feature.values()[random.nextInt(Feature.values().length)];
        return new Observed(
                about,
                random.nextBoolean(),
                levels,
                Course.EITHER,
                false,
                false,
                DrainSignals.EITHER,
                Set.of(),
                Optional.empty(),
                Optional.empty());
    }

    @Test
    void everyCause_hasTheOddsOfASearchThatLeavesNothingOut() {
        int named = 0;
        for (int i = 0; i < CASES; i++) {
            Observed observed = observed();
            Map<Cause, Double> whole = whole(observed);
            for (ProbableCause cause : Diagnosis.of(observed, false)) {
                assertThat(cause.probability())
                        .as("seed %d, case %d, %s", SEED, i, cause.cause())
                        .isEqualTo(whole.get(cause.cause()));
                named++;
            }
        }
        assertThat(named).isGreaterThan(CASES);
    }

    @Test
    void withoutWords_itIsTheSameButForThem() {
        for (int i = 0; i < CASES; i++) {
            Observed observed = observed();
            List<ProbableCause> bare = Diagnosis.of(observed).stream()
                    .map(each -> new ProbableCause(each.cause(), each.probability(), List.of(), List.of()))
                    .toList();
            assertThat(Diagnosis.of(observed, false))
                    .as("seed %d, case %d", SEED, i)
                    .isEqualTo(bare);
        }
    }

    /** By the definition in {@link Diagnosis}: every line at every severity, each feature anew. */
    private static Map<Cause, Double> whole(Observed observed) {
        Map<Cause, Double> best = new EnumMap<>(Cause.class);
        double sign = observed.upward() ? 1 : -1;
        for (Symptoms line : SymptomMatrix.LINES) {
            if (line.points().stream().anyMatch(point -> sign * point.getOrDefault(observed.about(), 0.0) >= 0.03)) {
                best.merge(line.cause(), best(line, observed), Math::max);
            }
        }
        double unknown = 0;
        for (Feature feature : Feature.values()) {
            if (observed.features().containsKey(feature)) {
                unknown += Math.max(fit(observed.features().get(feature), 0), -2.2);
            }
        }
        List<Double> odds = new ArrayList<>(best.values());
        odds.add(unknown);
        double[] probabilities =
                Posterior.of(odds.stream().mapToDouble(Double::doubleValue).toArray());
        Map<Cause, Double> byCause = new EnumMap<>(Cause.class);
        for (Cause cause : best.keySet()) {
            byCause.put(cause, probabilities[byCause.size()]);
        }
        return byCause;
    }

    private static double best(Symptoms line, Observed observed) {
        double best = Double.NEGATIVE_INFINITY;
        double ofWork = line.afterVisit() || line.afterWork() ? -1.2 : 0;
        for (int point = 0; point < line.points().size(); point++) {
            double[] shares =
                    point == 0 && line.comesWhole() ? new double[] {0.5, 0.75, 1} : new double[] {0.25, 0.5, 0.75, 1};
            for (double share : shares) {
                double odds = StrictMath.log(line.weight()) + ofWork;
                for (Feature feature : Feature.values()) {
                    Observed.Level level = observed.features().get(feature);
                    if (level != null) {
                        boolean isUsed = !SymptomMatrix.DISPUTED
                                .getOrDefault(line.cause(), Set.of())
                                .contains(feature);
                        odds += isUsed
                                ? fit(level, line.change(feature, point, share))
                                : StrictMath.log((1 + StrictMath.exp(fit(level, 0))) / 2);
                    }
                }
                best = Math.max(best, odds);
            }
        }
        return best;
    }

    private static double fit(Observed.Level level, double change) {
        double ofChange = 0.33 * change;
        double variance =
                level.error() * level.error() + level.matrixError() * level.matrixError() + ofChange * ofChange;
        double misfit = level.residual() - change;
        double fit = -2.5 * StrictMath.log1p(misfit * misfit / variance / 4);
        boolean isOpposite = level.residual() * change < 0
                && Math.abs(level.residual()) >= level.material()
                && Math.abs(change) >= level.material();
        return isOpposite ? fit - 2 : fit;
    }
}
