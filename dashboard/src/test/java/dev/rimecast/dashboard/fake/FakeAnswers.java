package dev.rimecast.dashboard.fake;

import dev.rimecast.dashboard.bench.Differing;
import dev.rimecast.dashboard.bench.Run;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** What the past answers to {@link FakeBench}: one difference of each kind, and figures. */
final class FakeAnswers {
    private FakeAnswers() {}

    static List<Differing> differences(Instant now) {
        return List.of(
                new Differing(
                        "added",
                        "site-1",
                        Optional.of("ice-0003"),
                        Optional.empty(),
                        "slow-pull-down",
                        "airflow-restricted",
                        "Pull-down is 12 % slower than it should be.",
                        Optional.empty(),
                        Optional.of(stood(now, 20, -1, "medium")),
                        Optional.of("right")),
                new Differing(
                        "earlier",
                        "site-1",
                        Optional.of("ice-0004"),
                        Optional.empty(),
                        "rising-condensing-temperature",
                        "scale",
                        "Split is 2.1 K above what it should be.",
                        Optional.of(stood(now, 30, -1, "low")),
                        Optional.of(stood(now, 52, -1, "low")),
                        Optional.empty()),
                new Differing(
                        "left-out",
                        "site-2",
                        Optional.of("ice-0001"),
                        Optional.empty(),
                        "long-freeze",
                        "",
                        "Freezing takes 5 % longer.",
                        Optional.of(stood(now, 40, 12, "low")),
                        Optional.empty(),
                        Optional.of("wrong")),
                new Differing(
                        "over-later",
                        "site-2",
                        Optional.empty(),
                        Optional.of("gateway-2"),
                        "gateway-silent",
                        "",
                        "No readings from the site.",
                        Optional.of(stood(now, 40, 30, "medium")),
                        Optional.of(stood(now, 40, 29, "medium")),
                        Optional.of("unknown")));
    }

    private static Differing.Stood stood(Instant now, int from, int to, String priority) {
        return new Differing.Stood(
                now.minus(Duration.ofHours(from)),
                to < 0 ? Optional.empty() : Optional.of(now.minus(Duration.ofHours(to))),
                priority);
    }

    /** One is otherwise, one is alike, one is a call that names no machine. */
    static List<Run.MachineSides> byMachine(Instant now) {
        return List.of(
                new Run.MachineSides(
                        "ice-0003",
                        true,
                        new Run.Sums(3, 1, 0, 1, 2, 1, 0, 0),
                        new Run.Sums(3, 2, 1, 0, 3, 0, 1, 0),
                        plots("ice-0003", now, 52)),
                new Run.MachineSides(
                        "ice-0001",
                        false,
                        new Run.Sums(1, 1, 0, 0, 1, 1, 0, 0),
                        new Run.Sums(1, 1, 0, 0, 1, 1, 0, 0),
                        plots("ice-0001", now, 40)),
                new Run.MachineSides(
                        "site-2",
                        false,
                        new Run.Sums(1, 0, 0, 0, 0, 0, 0, 0),
                        new Run.Sums(1, 0, 0, 0, 0, 0, 0, 0),
                        Optional.empty()));
    }

    private static Optional<Run.Plots> plots(String machine, Instant now, int hoursAgo) {
        return Optional.of(new Run.Plots(machine, now.minus(Duration.ofHours(hoursAgo))));
    }

    static List<Run.CauseSides> byCause(Instant now) {
        return List.of(
                new Run.CauseSides(
                        "airflow-restricted",
                        true,
                        new Run.Sums(5, 4, 0, 1, 5, 2, 1, 0),
                        new Run.Sums(5, 5, 1, 0, 6, 3, 1, 0),
                        Optional.of(new Run.Ends(0.45, 0.95)),
                        Optional.of(new Run.Ends(0.65, 1)),
                        List.of(
                                plots("ice-0003", now, 52).orElseThrow(),
                                plots("ice-0001", now, 40).orElseThrow())),
                new Run.CauseSides(
                        "scale",
                        false,
                        new Run.Sums(3, 2, 0, 0, 4, 1, 4, 0),
                        new Run.Sums(3, 2, 0, 0, 4, 1, 4, 0),
                        Optional.of(new Run.Ends(0.26, 0.91)),
                        Optional.of(new Run.Ends(0.26, 0.91)),
                        List.of(plots("ice-0004", now, 30).orElseThrow())),
                new Run.CauseSides(
                        "",
                        false,
                        new Run.Sums(0, 0, 0, 0, 0, 0, 1, 0),
                        new Run.Sums(0, 0, 0, 0, 0, 0, 1, 0),
                        Optional.empty(),
                        Optional.empty(),
                        List.of()));
    }

    static Run.Figures figures(int problems, int found, int right, int wrong, int unknown) {
        return new Run.Figures(
                problems,
                found,
                right,
                wrong,
                unknown,
                0,
                4,
                12,
                Optional.of(new Run.Ends(
                        Math.max(0, found / (double) problems - 0.25), Math.min(1, found / (double) problems + 0.1))),
                Optional.of(new Run.Ends(0.5, 0.9)),
                OptionalDouble.of(40 + 10 * found),
                Optional.of(new Run.Ends(20 + 10 * found, 90 + 10 * found)),
                OptionalDouble.of(wrong / 0.4),
                OptionalDouble.of(wrong / 0.8),
                OptionalDouble.of(wrong / 0.2),
                3,
                3,
                wrong,
                OptionalDouble.of(found * (40 + 10 * found) / (double) problems),
                new Run.Ends(0.8, 7.8),
                new Run.Ends(0.8, 7.8),
                new Run.Ends(wrong / 2.0, wrong * 2 + 3));
    }
}
