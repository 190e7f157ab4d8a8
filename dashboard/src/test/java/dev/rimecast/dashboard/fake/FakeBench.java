package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.view.Person;
import dev.rimecast.dashboard.bench.Bench;
import dev.rimecast.dashboard.bench.Effect;
import dev.rimecast.dashboard.bench.Look;
import dev.rimecast.dashboard.bench.Run;
import dev.rimecast.dashboard.bench.Sheet;
import dev.rimecast.dashboard.bench.Trial;
import dev.rimecast.dashboard.bench.Version;
import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;

/** A few numbers, two versions, no trial at first; questions to the past are answered at once, the second of a kind never. */
public final class FakeBench implements Bench {
    public static final String RATE = "change.false_alarms_per_machine_year";

    private final InstantSource clock;
    private final List<Version> versions = new ArrayList<>();
    private final Map<Integer, Map<String, Double>> values = new LinkedHashMap<>();
    private final List<Trial> trials = new ArrayList<>();
    private final FakeRuns runs;
    private final FakeLooks looks = new FakeLooks();
    private final FakeEffects effects = new FakeEffects();

    public FakeBench(InstantSource clock) {
        this.clock = clock;
        this.runs = new FakeRuns(clock);
        values.put(1, FakeNumbers.standard());
        versions.add(new Version(
                1,
                "standard-1",
                "product",
                clock.instant().minus(Duration.ofDays(40)),
                "start of the server",
                "the policy that comes with the product",
                Optional.empty(),
                Optional.empty(),
                List.of()));
        take(
                Map.of("delays.machine_silent_minutes", 90.0),
                new Person("Ana"),
                "a bar was warm for two hours",
                Optional.empty(),
                Optional.empty());
    }

    private Map<String, Double> now() {
        return of(versions.get(0).number());
    }

    private Map<String, Double> of(int number) {
        return Objects.requireNonNull(values.get(number));
    }

    @Override
    public synchronized Sheet sheet() {
        Map<String, Double> now = now();
        List<Sheet.Number> numbers = now.entrySet().stream()
                .map(each -> FakeNumbers.number(each.getKey(), each.getValue()))
                .toList();
        return new Sheet(
                versions.get(0),
                now.equals(FakeNumbers.standard()),
                true,
                numbers,
                "version: " + versions.get(0).name() + "\n");
    }

    @Override
    public synchronized List<Version> versions() {
        return List.copyOf(versions);
    }

    @Override
    public synchronized Optional<Version.Whole> version(int number) {
        return versions.stream()
                .filter(each -> each.number() == number)
                .findFirst()
                .map(each -> new Version.Whole(each, "version: " + each.name() + "\n"));
    }

    private List<Sheet.Change> changes(Map<String, Double> to) {
        Map<String, Double> now = now();
        return to.entrySet().stream()
                .filter(each -> !each.getValue().equals(FakeNumbers.required(now, each.getKey())))
                .map(each -> new Sheet.Change(
                        Optional.empty(), each.getKey(), FakeNumbers.required(now, each.getKey()), each.getValue()))
                .toList();
    }

    private <T> Optional<Answer<T>> refused(Map<String, Double> changes) {
        List<WrongNumber> wrong = new ArrayList<>();
        changes.forEach((path, value) -> {
            if (!FakeNumbers.standard().containsKey(path)) {
                wrong.add(new WrongNumber(path, "is no number of the policy"));
            } else if (value > FakeNumbers.number(path, value).most().orElse(Double.MAX_VALUE)) {
                wrong.add(new WrongNumber(path, "is too much"));
            }
        });
        if (!wrong.isEmpty()) {
            return Optional.of(new Answer.Wrong<>(wrong));
        }
        return changes(changes).isEmpty() ? Optional.of(new Answer.Same<>()) : Optional.empty();
    }

    private void take(
            Map<String, Double> changes, Person who, String why, Optional<Integer> restores, Optional<Integer> trial) {
        int number = versions.get(0).number() + 1;
        Map<String, Double> next = new LinkedHashMap<>(of(number - 1));
        next.putAll(changes);
        Version version = new Version(
                number,
                "firm-" + number,
                "person",
                clock.instant(),
                who.name(),
                why,
                restores,
                trial,
                changes(changes));
        values.put(number, next);
        versions.add(0, version);
    }

    @Override
    public synchronized Answer<Sheet> change(int expected, Map<String, Double> changes, Person who, String why) {
        Optional<Answer<Sheet>> refused = refused(changes);
        if (refused.isPresent()) {
            return refused.get();
        }
        if (expected != versions.get(0).number()) {
            return new Answer.Changed<>(versions.get(0));
        }
        take(changes, who, why, Optional.empty(), Optional.empty());
        return new Answer.Done<>(sheet());
    }

    @Override
    public synchronized Answer<Sheet> rollBack(int expected, int to, Person who, String why) {
        if (expected != versions.get(0).number()) {
            return new Answer.Changed<>(versions.get(0));
        }
        if (!values.containsKey(to) || to >= expected) {
            return new Answer.Unknown<>();
        }
        take(of(to), who, why, Optional.of(to), Optional.empty());
        return new Answer.Done<>(sheet());
    }

    @Override
    public synchronized List<Trial> trials() {
        return List.copyOf(trials);
    }

    @Override
    public synchronized Optional<Trial> trial(int id) {
        return trials.stream().filter(each -> each.id() == id).findFirst();
    }

    @Override
    public synchronized Answer<Trial> tryOut(Map<String, Double> changes, Person who, String why) {
        Optional<Answer<Trial>> refused = refused(changes);
        if (refused.isPresent()) {
            return refused.get();
        }
        if (!trials.isEmpty() && trials.get(0).state().equals("running")) {
            return new Answer.NotPossible<>("Another trial runs: promote or drop it first.");
        }
        trials.add(
                0,
                new Trial(
                        trials.size() + 1,
                        "running",
                        clock.instant().minus(Duration.ofDays(3)),
                        who.name(),
                        why,
                        versions.get(0).number(),
                        changes(changes),
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty(),
                        Optional.of(new Trial.Result(
                                Optional.of(clock.instant().minus(Duration.ofMinutes(4))),
                                7,
                                9,
                                6,
                                true,
                                4,
                                FakeAnswers.differences(clock.instant())))));
        return new Answer.Done<>(trials.get(0));
    }

    private Optional<Trial> end(int id, String state, Person who, String why) {
        Optional<Trial> running = trial(id).filter(each -> each.state().equals("running"));
        running.ifPresent(was -> trials.set(
                trials.indexOf(was),
                new Trial(
                        was.id(),
                        state,
                        was.startedAt(),
                        was.startedBy(),
                        was.why(),
                        was.base(),
                        was.changes(),
                        Optional.of(new Trial.Ended(clock.instant(), who.name(), why)),
                        Optional.empty(),
                        Optional.empty(),
                        was.result())));
        return running;
    }

    @Override
    public synchronized Answer<Sheet> promote(int trial, int expected, Person who, String why) {
        if (trial(trial).filter(each -> each.state().equals("running")).isEmpty()) {
            return new Answer.Unknown<>();
        }
        if (expected != versions.get(0).number()) {
            return new Answer.Changed<>(versions.get(0));
        }
        Map<String, Double> changes = new LinkedHashMap<>();
        end(trial, "promoted", who, why)
                .orElseThrow()
                .changes()
                .forEach(each -> changes.put(each.path(), each.after()));
        take(changes, who, why, Optional.empty(), Optional.of(trial));
        return new Answer.Done<>(sheet());
    }

    @Override
    public synchronized Answer<Trial> drop(int trial, Person who, String why) {
        return end(trial, "dropped", who, why).isEmpty()
                ? new Answer.Unknown<>()
                : new Answer.Done<>(trial(trial).orElseThrow());
    }

    @Override
    public synchronized List<Run> runs() {
        return runs.all();
    }

    @Override
    public synchronized Optional<Run> run(int id) {
        return runs.of(id);
    }

    @Override
    public synchronized Answer<Run> backTest(Map<String, Double> changes, int days, Person who) {
        Optional<Answer<Run>> refused = refused(changes);
        if (refused.isPresent() && refused.get() instanceof Answer.Wrong<Run>) {
            return refused.get();
        }
        return new Answer.Done<>(runs.backTest(versions.get(0).number(), changes(changes), days, who));
    }

    @Override
    public synchronized Answer<Run> sweep(List<Tried> numbers, Costs costs, int days, Person who) {
        for (Tried number : numbers) {
            for (double value : number.values()) {
                Optional<Answer<Run>> refused = refused(Map.of(number.path(), value));
                if (refused.isPresent() && refused.get() instanceof Answer.Wrong<Run>) {
                    return refused.get();
                }
            }
        }
        List<Double> now = numbers.stream()
                .map(number -> FakeNumbers.required(now(), number.path()))
                .toList();
        return new Answer.Done<>(runs.sweep(versions.get(0).number(), numbers, now, costs, days, who));
    }

    @Override
    public synchronized boolean cancel(int id) {
        return runs.cancel(id);
    }

    @Override
    public synchronized Answer<Effect> effect(Map<String, Double> changes, Person who) {
        Answer<Effect> asked = new Answer.Done<>(effects.ask(changes, clock.instant()));
        return this.<Effect>refused(changes)
                .filter(each -> each instanceof Answer.Wrong)
                .orElse(asked);
    }

    @Override
    public synchronized Optional<Effect> effect(int id) {
        return effects.look(id, clock.instant());
    }

    /** Whether the last months are still being made ready; at first they are. */
    public synchronized void ready(boolean is) {
        effects.ready(is);
    }

    @Override
    public synchronized FileRead read(String yaml) {
        return FakeEffects.read(yaml, FakeNumbers.required(now(), RATE));
    }

    @Override
    public synchronized Look.Looks looks() {
        return looks.all();
    }

    @Override
    public synchronized Answer<Look> look(int days, int fitDays, Person who) {
        return new Answer.Done<>(looks.ask(clock.instant(), days, fitDays, who));
    }

    @Override
    public synchronized boolean endLook() {
        return looks.end("cancelled", Optional.empty());
    }

    public synchronized boolean failLook(String why) {
        return looks.end("failed", Optional.of(why));
    }
}
