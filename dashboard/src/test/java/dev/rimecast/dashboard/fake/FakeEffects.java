package dev.rimecast.dashboard.fake;

import dev.rimecast.dashboard.bench.Bench.FileRead;
import dev.rimecast.dashboard.bench.Effect;
import dev.rimecast.dashboard.bench.Progress;
import dev.rimecast.dashboard.bench.Sheet;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;

/** What moved numbers do: of a part of the fleet when it is asked for, of all of it at the second look. */
final class FakeEffects {
    private static final String LIMIT = "limits.condensing_celsius";

    private int last;
    private int looks;
    private boolean isReady = true;
    private Map<String, Double> changes = Map.of();

    void ready(boolean is) {
        isReady = is;
    }

    Effect ask(Map<String, Double> moved, Instant now) {
        last++;
        looks = 0;
        changes = Map.copyOf(moved);
        return effect(now);
    }

    Optional<Effect> look(int id, Instant now) {
        if (id < 1 || id > last) {
            return Optional.empty();
        }
        looks++;
        return Optional.of(effect(now));
    }

    private Effect effect(Instant now) {
        List<String> counted = changes.keySet().stream()
                .filter(path -> path.startsWith("change."))
                .toList();
        List<Effect.Limit> limits =
                changes.containsKey(LIMIT) ? List.of(new Effect.Limit(LIMIT, 12, 3, 31, 5)) : List.of();
        List<String> others = changes.keySet().stream()
                .filter(path -> !counted.contains(path) && !path.equals(LIMIT))
                .sorted()
                .toList();
        boolean isDone = looks > 2 || counted.isEmpty();
        return new Effect(
                last,
                isReady ? (isDone ? "done" : "running") : "preparing",
                90,
                Optional.empty(),
                isReady ? Optional.empty() : Optional.of(new Progress(310_000, 750_000, OptionalLong.of(95))),
                counted,
                isReady ? limits : List.of(),
                others,
                isReady && !counted.isEmpty() ? Optional.of(seen(now, isDone)) : Optional.empty());
    }

    private static Effect.Seen seen(Instant now, boolean isAll) {
        return new Effect.Seen(
                now.minus(Duration.ofDays(90)),
                now,
                isAll ? 75 : 10,
                75,
                isAll ? 300 : 40,
                300,
                isAll ? 19 : 4,
                isAll ? 74.0 : 9.9,
                isAll ? 212 : 41,
                isAll ? 251 : 50,
                isAll ? FakeAnswers.figures(8, 6, 9, 3, 200) : FakeAnswers.figures(4, 3, 4, 1, 36),
                isAll ? FakeAnswers.figures(8, 7, 11, 4, 236) : FakeAnswers.figures(4, 4, 5, 1, 44),
                212,
                Optional.of(isAll ? new Effect.Fleet(39, 39, 39) : new Effect.Fleet(44, 12, 76)));
    }

    /** A file that begins with a version is a policy; any other has two places that are wrong. */
    static FileRead read(String yaml, double rate) {
        if (!yaml.startsWith("version:")) {
            return new FileRead.Unreadable(List.of(
                    new FileRead.Wrong(1, "version", "is missing: give the policy a name"),
                    new FileRead.Wrong(3, "all.change.moon", "is no number of a policy: leave it out")));
        }
        return new FileRead.Read(
                "firm-2-tuned",
                List.of(new Sheet.Change(Optional.empty(), FakeBench.RATE, rate, 0.5)),
                List.of(new Sheet.Change(Optional.of("cube-50"), "limits.condensing_celsius", 65, 60)));
    }
}
