package dev.rimecast.app.bench;

import dev.rimecast.alerts.view.Mark;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyForm;
import dev.rimecast.analytics.score.FittingConditions;
import dev.rimecast.analytics.statistics.WilsonInterval;
import dev.rimecast.dashboard.bench.Bench;
import dev.rimecast.dashboard.bench.Run;
import dev.rimecast.history.backtest.AlertRows;
import dev.rimecast.history.backtest.BacktestText;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.Judge;
import dev.rimecast.history.backtest.Judged;
import dev.rimecast.history.backtest.Labels;
import dev.rimecast.history.backtest.Live;
import dev.rimecast.history.backtest.LogRun;
import dev.rimecast.history.backtest.SideBySide;
import dev.rimecast.history.backtest.Window;
import dev.rimecast.history.compare.Difference;
import dev.rimecast.history.compare.Raised;
import dev.rimecast.history.query.History;
import dev.rimecast.history.tune.Costs;
import dev.rimecast.history.tune.FromCycles;
import dev.rimecast.history.tune.Sweep;
import dev.rimecast.history.tune.Tuning;
import dev.rimecast.history.tune.Variant;
import dev.rimecast.telemetry.file.result.AlertRow;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Back-tests and sweeps for the page. Monitors go through all of the history, since they know what they have learned; only the
 * days that were asked about are judged. One thread, so that live has the rest of the machine.
 */
final class PastWork {
    private static final int THREADS = 1;
    private static final int PARTS = 5;

    private PastWork() {}

    /** Of the readings, gone on with; of the cycles, in seconds. */
    record Means(KeptRuns kept, TapedPast taped) {}

    /** The policies in force beside a candidate. */
    static Run backTest(Run asked, Policy candidate, List<Mark> marks, History past, KeptRuns kept, Pace pace) {
        Decided decided = kept.decide(
                past,
                List.of(
                        new LogRun.Trial("live", Optional.empty()),
                        new LogRun.Trial(candidate.version(), Optional.of(candidate))),
                THREADS,
                pace);
        Live live = Live.compare(past, decided.findings().get(0));
        Window window = Window.of(decided, asked.days());
        Decided judgedPart = window.of(decided);
        Labels labels = MarkedPast.labels(judgedPart, marks);
        Judge judge = new Judge(judgedPart, labels, FittingConditions.standard());
        List<Judged> judged = decided.findings().stream()
                .map(findings -> judge.judge(window.of(AlertRows.of(findings))))
                .toList();
        SideBySide sides = SideBySide.of(judged);
        Map<String, String> verdicts = new HashMap<>();
        judged.forEach(each -> verdicts(each, verdicts));
        List<Difference> differences =
                Difference.between(
                                Raised.of(decided.findings().get(0)),
                                Raised.of(decided.findings().get(1)))
                        .stream()
                        .filter(window::has)
                        .toList();
        Run.BackTest answer = new Run.BackTest(
                window.from(),
                window.to(),
                judgedPart.watched().size(),
                years(judgedPart),
                decided.cycles(),
                live.isSame(),
                live.inWords().strip(),
                figures(judged.get(0)),
                figures(judged.get(1)),
                SidesShape.causes(sides),
                known(labels, judged.get(0)),
                differences.size(),
                Shapes.differing(newestFirst(differences), verdicts),
                live.later(),
                candidate.yaml(),
                String.format(Locale.ROOT, "Judged: %s to %s%n%s%n", window.from(), window.to(), live.inWords())
                        + BacktestText.of(List.of("live", candidate.version()), judged, sides, labels, ""),
                sides.machines().size(),
                SidesShape.byMachine(sides),
                SidesShape.byCause(sides));
        return answered(asked, Optional.of(answer), Optional.empty());
    }

    private static List<Difference> newestFirst(List<Difference> differences) {
        List<Difference> sorted = new ArrayList<>(differences);
        Collections.reverse(sorted);
        return sorted;
    }

    /** The policy in force and every combination of the values that is another one. */
    static List<Variant> variants(Policy base, List<Sweep> sweeps) {
        return Variant.of(base, sweeps).stream()
                .filter(variant -> variant.changed().isEmpty()
                        || variant.changed().entrySet().stream()
                                .anyMatch(changed -> now(base, changed.getKey()) != changed.getValue()))
                .toList();
    }

    static double now(Policy base, String path) {
        return PolicyForm.standard()
                .entry(path)
                .map(entry -> PolicyForm.value(base, entry))
                .orElseThrow();
    }

    /** The policy in force beside the same with each value of one number, or each combination of two. */
    static Run sweep(
            Run asked,
            Policy base,
            List<Sweep> sweeps,
            Bench.Costs costs,
            List<Mark> marks,
            History past,
            Means means,
            Pace pace) {
        List<Variant> variants = variants(base, sweeps);
        List<String> paths = sweeps.stream().map(Sweep::path).toList();
        Decided decided = FromCycles.areOfCycles(paths)
                ? means.taped().sweep(past, variants, THREADS, pace)
                : means.kept()
                        .decide(past, variants.stream().map(Variant::trial).toList(), THREADS, pace);
        Window window = Window.of(decided, asked.days());
        Decided judgedPart = window.of(decided);
        List<List<AlertRow>> alerts = decided.findings().stream()
                .map(findings -> window.of(AlertRows.of(findings)))
                .toList();
        Labels labels = MarkedPast.labels(judgedPart, marks);
        Tuning tuning = Tuning.of(
                variants, judgedPart, labels, alerts, new Costs(costs.visit(), costs.stop(), costs.late()), PARTS);
        double years = years(judgedPart);
        Run.Sweep answer = SweepShape.of(tuning, paths, costs, window, years, labels.marks(), whatWasCovered(paths));
        return answered(asked, Optional.empty(), Optional.of(answer));
    }

    private static String whatWasCovered(List<String> paths) {
        return FromCycles.areOfCycles(paths) ? String.format(Locale.ROOT, "%n%s%n", FromCycles.IN_WORDS) : "";
    }

    private static Run answered(Run asked, Optional<Run.BackTest> backTest, Optional<Run.Sweep> sweep) {
        return new Run(
                asked.id(),
                asked.kind(),
                asked.state(),
                asked.by(),
                asked.askedAt(),
                asked.base(),
                asked.days(),
                asked.changes(),
                Optional.empty(),
                Optional.empty(),
                backTest,
                sweep);
    }

    private static void verdicts(Judged judged, Map<String, String> into) {
        judged.right().forEach(alert -> into.put(alert.alert(), "right"));
        judged.wrong().forEach(alert -> into.put(alert.alert(), "wrong"));
        judged.contradicting().forEach(alert -> into.put(alert.alert(), "contradicting"));
        judged.unlabelled().forEach(alert -> into.put(alert.alert(), "unknown"));
    }

    private static double years(Decided decided) {
        return decided.watched().values().stream()
                .mapToDouble(Decided.Span::years)
                .sum();
    }

    static Run.Figures figures(Judged judged) {
        boolean isRated = judged.falseRate().isPresent();
        double[] ends = isRated ? judged.falseRateInterval() : new double[2];
        return new Run.Figures(
                judged.problems().size(),
                judged.found(),
                judged.right().size(),
                judged.wrong().size(),
                judged.unlabelled().size(),
                judged.contradicting().size(),
                judged.statements(),
                judged.care(),
                judged.recall().map(PastWork::ends),
                judged.precision().map(PastWork::ends),
                judged.leadHours(0.5),
                judged.medianLeadInterval().map(each -> new Run.Ends(each[0], each[1])),
                judged.falseRate(),
                isRated ? OptionalDouble.of(ends[0]) : OptionalDouble.empty(),
                isRated ? OptionalDouble.of(ends[1]) : OptionalDouble.empty(),
                judged.avoided(),
                judged.planned(),
                judged.wasted(),
                judged.leadOfAllHours(),
                visits(judged.avoided()),
                visits(judged.planned()),
                visits(judged.wasted()));
    }

    private static Run.Ends visits(int count) {
        double[] ends = Judged.countInterval(count);
        return new Run.Ends(ends[0], ends[1]);
    }

    static Run.Ends ends(WilsonInterval interval) {
        return new Run.Ends(interval.low(), interval.high());
    }

    private static Run.Known known(Labels labels, Judged judged) {
        return new Run.Known(
                labels.marks(),
                labels.visits(),
                labels.calls(),
                judged.soundYears(),
                labels.unknown().size());
    }
}
