package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.view.Person;
import dev.rimecast.dashboard.bench.Bench.Costs;
import dev.rimecast.dashboard.bench.Bench.Tried;
import dev.rimecast.dashboard.bench.Progress;
import dev.rimecast.dashboard.bench.Run;
import dev.rimecast.dashboard.bench.Sheet;
import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;

/** Questions to the past: answered at once, the second back-test never. */
final class FakeRuns {
    private final InstantSource clock;
    private final List<Run> runs = new ArrayList<>();

    FakeRuns(InstantSource clock) {
        this.clock = clock;
    }

    List<Run> all() {
        return List.copyOf(runs);
    }

    Optional<Run> of(int id) {
        return runs.stream().filter(each -> each.id() == id).findFirst();
    }

    Run backTest(int version, List<Sheet.Change> changes, int days, Person who) {
        boolean isAnswered = runs.stream().noneMatch(run -> run.kind().equals("back-test"));
        Run.BackTest answer = new Run.BackTest(
                clock.instant().minus(Duration.ofDays(days)),
                clock.instant(),
                24,
                2.1,
                48_000,
                true,
                "Exactly what was raised live: 212 revisions of alerts.",
                FakeAnswers.figures(8, 6, 9, 3, 5),
                FakeAnswers.figures(8, 7, 11, 4, 6),
                List.of(
                        new Run.OfCause("airflow-restricted", 5, 4, 5, new Run.Ends(0.45, 0.95), new Run.Ends(0.65, 1)),
                        new Run.OfCause("scale", 3, 2, 2, new Run.Ends(0.26, 0.91), new Run.Ends(0.26, 0.91))),
                new Run.Known(3, 8, 2, 0.4, 1),
                4,
                FakeAnswers.differences(clock.instant()),
                2,
                "version: firm-2-changed\nall: {change: {false_alarms_per_machine_year: 0.5}}\n",
                "Problems known before their time (recall, 90 %)  6 of 8  7 of 8\n",
                412,
                FakeAnswers.byMachine(clock.instant()),
                FakeAnswers.byCause(clock.instant()));
        return add(
                "back-test",
                version,
                days,
                who,
                changes,
                isAnswered ? "done" : "running",
                isAnswered ? Optional.of(answer) : Optional.empty(),
                Optional.empty());
    }

    Run sweep(int version, List<Tried> numbers, List<Double> now, Costs costs, int days, Person who) {
        boolean isTwo = numbers.size() > 1;
        List<Double> others = isTwo ? numbers.get(1).values() : List.of(0.0);
        List<Run.Point> points = new ArrayList<>();
        // the first value is as early with fewer wrong alerts
        points.add(new Run.Point(
                now.get(0),
                2_400,
                FakeAnswers.figures(8, 6, 9, 3, 5),
                8.1,
                false,
                isTwo ? OptionalDouble.of(now.get(1)) : OptionalDouble.empty()));
        for (double value : numbers.get(0).values()) {
            for (double other : others) {
                int found = Math.min(8, 5 + points.size());
                points.add(new Run.Point(
                        value,
                        2_100 + 100 * points.size(),
                        FakeAnswers.figures(8, found, 9, 1 + points.size(), 5),
                        7 + points.size(),
                        found > points.get(points.size() - 1).figures().found() || points.size() == 1,
                        isTwo ? OptionalDouble.of(other) : OptionalDouble.empty()));
            }
        }
        Run.Sweep answer = new Run.Sweep(
                numbers.get(0).path(),
                costs,
                clock.instant().minus(Duration.ofDays(days)),
                clock.instant(),
                2.1,
                points,
                1,
                1,
                0,
                "not-held",
                2_500,
                OptionalDouble.of(140),
                5,
                3,
                "version: firm-2\n",
                "Proposed: nothing.\n",
                numbers.stream().skip(1).map(Tried::path).findFirst());
        return add("sweep", version, days, who, List.of(), "done", Optional.empty(), Optional.of(answer));
    }

    boolean cancel(int id) {
        Optional<Run> open = of(id).filter(each -> each.state().equals("running"));
        open.ifPresent(was -> runs.set(runs.indexOf(was), was.in("cancelled", Optional.empty(), Optional.empty())));
        return open.isPresent();
    }

    private Run add(
            String kind,
            int version,
            int days,
            Person who,
            List<Sheet.Change> changes,
            String state,
            Optional<Run.BackTest> backTest,
            Optional<Run.Sweep> sweep) {
        Run run = new Run(
                runs.size() + 1,
                kind,
                state,
                who.name(),
                clock.instant(),
                version,
                days,
                changes,
                Optional.empty(),
                state.equals("running")
                        ? Optional.of(new Progress(310_000, 750_000, OptionalLong.of(95)))
                        : Optional.empty(),
                backTest,
                sweep);
        runs.add(0, run);
        return run;
    }
}
