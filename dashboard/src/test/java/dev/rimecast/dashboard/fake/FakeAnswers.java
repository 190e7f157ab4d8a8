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
