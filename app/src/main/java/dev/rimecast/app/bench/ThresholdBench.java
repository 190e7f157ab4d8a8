package dev.rimecast.app.bench;

import dev.rimecast.alerts.policy.PolicyChange;
import dev.rimecast.alerts.policy.PolicyTrial;
import dev.rimecast.alerts.register.PolicyDesk;
import dev.rimecast.alerts.view.Mark;
import dev.rimecast.alerts.view.Marks;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyForm;
import dev.rimecast.analytics.policy.PolicyText;
import dev.rimecast.dashboard.bench.Bench;
import dev.rimecast.dashboard.bench.Effect;
import dev.rimecast.dashboard.bench.Look;
import dev.rimecast.dashboard.bench.Run;
import dev.rimecast.dashboard.bench.Sheet;
import dev.rimecast.dashboard.bench.Trial;
import dev.rimecast.dashboard.bench.Version;
import dev.rimecast.dashboard.json.WireFormat;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.query.History;
import dev.rimecast.history.trial.TrialPolicy;
import dev.rimecast.history.trial.TrialRun;
import dev.rimecast.history.tune.FromCycles;
import dev.rimecast.history.tune.Sweep;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.UnaryOperator;
import tools.jackson.databind.json.JsonMapper;

/** Policies from the database, what they mean from detection, what they did from the history. */
public final class ThresholdBench implements Bench, AutoCloseable {
    /** Each is a monitor of its own for every machine of a partition, in the memory of the server. */
    private static final int MOST_FROM_READINGS = 13;

    private static final int MEMORY_MEGABYTES = 64;

    private final PolicyDesk desk;
    private final Marks marks;
    private final Optional<Path> history;
    private final JsonMapper json = WireFormat.mapper();
    private final Optional<TrialKeeper> keeper;
    private final Questions questions;
    private final Optional<EffectDesk> effects;
    private final PastWork.Means means;

    private ThresholdBench(PolicyDesk desk, Marks marks, Optional<Path> history, Path trials, InstantSource clock) {
        this.desk = desk;
        this.marks = marks;
        this.history = history;
        this.means = new PastWork.Means(new KeptRuns(trials.resolve("asked")), new TapedPast(trials.resolve("cycles")));
        this.questions = new Questions(history.map(RunDesk::new), clock);
        this.effects = history.map(past -> new EffectDesk(past, trials.resolve("effect"), this::standing));
        this.keeper = history.map(directory -> new TrialKeeper(directory, trials, this::running));
    }

    /**
     * Starts; a trial that was running goes on.
     *
     * @param marks against which alerts of the past are held, beside visits and calls
     * @param history directory of the history that this process writes; empty where it writes none
     * @param trials directory for files of a trial, and of questions that were cancelled
     */
    public static ThresholdBench start(
            PolicyDesk desk, Marks marks, Optional<Path> history, Path trials, InstantSource clock) {
        ThresholdBench bench = new ThresholdBench(desk, marks, history, trials, clock);
        bench.keeper.ifPresent(TrialKeeper::start);
        return bench;
    }

    private Optional<TrialPolicy> running() {
        return desk.trials().stream()
                .filter(PolicyTrial::isRunning)
                .findFirst()
                .map(trial -> new TrialPolicy(trial.id(), Policy.parse(trial.yaml()), trial.since()));
    }

    private PolicyChange current() {
        return desk.current().orElseThrow(() -> new IllegalStateException("no policy was ever brought in"));
    }

    @Override
    public Sheet sheet() {
        PolicyChange current = current();
        Version version = Shapes.version(current, desk.change(current.number() - 1));
        return Shapes.sheet(version, Shapes.read(current.yaml()).orElseGet(Policy::standard), history.isPresent());
    }

    @Override
    public List<Version> versions() {
        return Shapes.versions(desk.changes());
    }

    @Override
    public Optional<Version.Whole> version(int number) {
        return desk.change(number)
                .map(change -> new Version.Whole(Shapes.version(change, desk.change(number - 1)), change.yaml()));
    }

    @Override
    public Answer<Sheet> change(int expected, Map<String, Double> changes, Person who, String why) {
        List<WrongNumber> wrong = wrong(changes);
        if (!wrong.isEmpty()) {
            return new Answer.Wrong<>(wrong);
        }
        Policy base = policy(current());
        if (isNoChange(base, changes)) {
            return new Answer.Same<>();
        }
        UnaryOperator<String> text = name -> PolicyText.of(base, name, changes);
        return answer(desk.put(expected, text, who, why));
    }

    @Override
    public Answer<Sheet> rollBack(int expected, int to, Person who, String why) {
        return answer(desk.rollBack(expected, to, who, why));
    }

    private Answer<Sheet> answer(PolicyDesk.Outcome outcome) {
        if (outcome instanceof PolicyDesk.Outcome.Done) {
            keeper.ifPresent(TrialKeeper::wake);
            return new Answer.Done<>(sheet());
        }
        if (outcome instanceof PolicyDesk.Outcome.Changed changed) {
            return new Answer.Changed<>(Shapes.version(
                    changed.current(), desk.change(changed.current().number() - 1)));
        }
        return outcome instanceof PolicyDesk.Outcome.Same ? new Answer.Same<>() : new Answer.Unknown<>();
    }

    private static Policy policy(PolicyChange change) {
        return Shapes.read(change.yaml()).orElseGet(Policy::standard);
    }

    private static boolean isNoChange(Policy base, Map<String, Double> changes) {
        return PolicyForm.differences(base, Policy.parse(PolicyText.of(base, "x", changes)))
                .isEmpty();
    }

    private static List<WrongNumber> wrong(Map<String, Double> changes) {
        List<WrongNumber> wrong = new ArrayList<>();
        changes.forEach((path, value) -> {
            Optional<PolicyForm.Entry> entry = PolicyForm.standard().entry(path);
            if (entry.isEmpty()) {
                wrong.add(new WrongNumber(path, "is no number of the policy"));
            } else if (!entry.get().range().contains(value)) {
                wrong.add(new WrongNumber(path, "must be " + entry.get().range() + ", was " + value));
            }
        });
        return wrong;
    }

    @Override
    public List<Trial> trials() {
        return desk.trials().stream().map(this::shape).toList();
    }

    @Override
    public Optional<Trial> trial(int id) {
        return desk.trial(id).map(this::shape);
    }

    private Trial shape(PolicyTrial of) {
        Optional<Policy> base = desk.change(of.base()).map(ThresholdBench::policy);
        Optional<Policy> candidate = Shapes.read(of.yaml());
        Optional<String> unreadable = candidate.isPresent()
                ? Optional.empty()
                : Optional.of("This version of the product can't read its policy: drop it, and begin another.");
        return new Trial(
                of.id(),
                of.ended()
                        .map(ended -> ended.outcome().name().toLowerCase(Locale.ROOT))
                        .orElse("running"),
                of.startedAt(),
                of.startedBy(),
                of.why(),
                of.base(),
                base.isPresent() && candidate.isPresent() ? Shapes.changes(base.get(), candidate.get()) : List.of(),
                of.ended().map(ended -> new Trial.Ended(ended.at(), ended.by(), ended.why())),
                of.isRunning()
                        ? unreadable.or(() -> keeper.isEmpty()
                                ? Optional.of(Questions.NO_HISTORY)
                                : keeper.get().problem(of.id()))
                        : Optional.empty(),
                of.isRunning() ? keeper.flatMap(each -> each.progress(of.id())) : Optional.empty(),
                of.isRunning() ? keeper.flatMap(each -> each.result(of.id())) : stored(of));
    }

    private Optional<Trial.Result> stored(PolicyTrial of) {
        return of.ended()
                .map(PolicyTrial.Ended::result)
                .filter(text -> !text.isBlank())
                .map(text -> json.readValue(text, Trial.Result.class));
    }

    private String resultOf(int trial) {
        return keeper.flatMap(each -> each.result(trial))
                .map(json::writeValueAsString)
                .orElse("");
    }

    @Override
    public Answer<Trial> tryOut(Map<String, Double> changes, Person who, String why) {
        List<WrongNumber> wrong = wrong(changes);
        if (!wrong.isEmpty()) {
            return new Answer.Wrong<>(wrong);
        }
        if (history.isEmpty()) {
            return new Answer.NotPossible<>(Questions.NO_HISTORY);
        }
        Policy base = policy(current());
        if (isNoChange(base, changes)) {
            return new Answer.Same<>();
        }
        Optional<Instant> since = newest();
        if (since.isEmpty()) {
            return new Answer.NotPossible<>(
                    "The history has nothing yet: it gets its first file within minutes of the first readings.");
        }
        Optional<PolicyTrial> begun = desk.tryOut(PolicyText.of(base, "on-trial", changes), since.get(), who, why);
        if (begun.isEmpty()) {
            return new Answer.NotPossible<>("Another trial runs: promote or drop it first.");
        }
        keeper.ifPresent(TrialKeeper::wake);
        return new Answer.Done<>(shape(begun.get()));
    }

    private Optional<Instant> newest() {
        try (History past = History.open(history.orElseThrow(), MEMORY_MEGABYTES, true)) {
            return TrialRun.newest(past);
        } catch (HistoryException none) {
            return Optional.empty();
        }
    }

    @Override
    public Answer<Sheet> promote(int trial, int expected, Person who, String why) {
        Optional<PolicyTrial> tried = desk.trial(trial).filter(PolicyTrial::isRunning);
        Optional<Policy> candidate = tried.flatMap(each -> Shapes.read(each.yaml()));
        if (tried.isEmpty() || candidate.isEmpty()) {
            return new Answer.Unknown<>();
        }
        return answer(desk.promote(
                trial, expected, name -> PolicyText.of(candidate.get(), name, Map.of()), resultOf(trial), who, why));
    }

    @Override
    public Answer<Trial> drop(int trial, Person who, String why) {
        if (!desk.drop(trial, resultOf(trial), who, why)) {
            return new Answer.Unknown<>();
        }
        keeper.ifPresent(TrialKeeper::wake);
        return new Answer.Done<>(trial(trial).orElseThrow());
    }

    @Override
    public List<Run> runs() {
        return questions.runs();
    }

    @Override
    public Optional<Run> run(int id) {
        return runs().stream().filter(run -> run.id() == id).findFirst();
    }

    @Override
    public Answer<Run> backTest(Map<String, Double> changes, int days, Person who) {
        List<WrongNumber> wrong = wrong(changes);
        if (!wrong.isEmpty()) {
            return new Answer.Wrong<>(wrong);
        }
        PolicyChange current = current();
        Policy base = policy(current);
        Policy candidate = Policy.parse(PolicyText.of(base, "changed", changes));
        return questions.ask(
                "back-test",
                current,
                days,
                Shapes.changes(base, candidate),
                who.name(),
                (asked, past, pace) -> PastWork.backTest(asked, candidate, standing(), past, means.kept(), pace));
    }

    @Override
    public Answer<Run> sweep(List<Tried> numbers, Costs costs, int days, Person who) {
        List<WrongNumber> wrong = new ArrayList<>();
        numbers.forEach(number -> number.values().forEach(value -> wrong.addAll(wrong(Map.of(number.path(), value)))));
        if (!wrong.isEmpty()) {
            return new Answer.Wrong<>(wrong);
        }
        PolicyChange current = current();
        Policy base = policy(current);
        List<Sweep> sweeps = numbers.stream()
                .map(number -> new Sweep(
                        number.path(), number.values().stream().distinct().toList()))
                .toList();
        int variants = PastWork.variants(base, sweeps).size();
        if (variants == 1) {
            return new Answer.Same<>();
        }
        List<String> paths = sweeps.stream().map(Sweep::path).toList();
        if (variants > MOST_FROM_READINGS && !FromCycles.areOfCycles(paths)) {
            return new Answer.NotPossible<>("A number of these acts on readings, of which at most " + MOST_FROM_READINGS
                    + " policies are tried at once here; these are " + variants
                    + ". Try fewer values, or ./rimecast tune on another machine.");
        }
        if (costs.visit() + costs.stop() + costs.late() == 0) {
            return new Answer.NotPossible<>("Every cost is 0: nothing would be cheaper than anything else.");
        }
        return questions.ask(
                "sweep",
                current,
                days,
                List.of(),
                who.name(),
                (asked, past, pace) -> PastWork.sweep(asked, base, sweeps, costs, standing(), past, means, pace));
    }

    /** Those that count when the answer is reckoned; only who sees every site asks. */
    private List<Mark> standing() {
        return marks.standing(SiteScope.EVERY);
    }

    @Override
    public boolean cancel(int run) {
        return questions.cancel(run);
    }

    @Override
    public Answer<Effect> effect(Map<String, Double> changes, Person who) {
        List<WrongNumber> wrong = wrong(changes);
        if (!wrong.isEmpty()) {
            return new Answer.Wrong<>(wrong);
        }
        return effects.isEmpty()
                ? new Answer.NotPossible<>(Questions.NO_HISTORY)
                : new Answer.Done<>(effects.get().ask(policy(current()), changes, who.name()));
    }

    @Override
    public Optional<Effect> effect(int id) {
        return effects.flatMap(each -> each.effect(id));
    }

    @Override
    public FileRead read(String yaml) {
        return Shapes.file(yaml, policy(current()));
    }

    @Override
    public Look.Looks looks() {
        return questions.looks();
    }

    @Override
    public Answer<Look> look(int days, int fitDays, Person who) {
        return questions.look(days, fitDays, who.name());
    }

    @Override
    public boolean endLook() {
        return questions.endLook();
    }

    @Override
    public void close() {
        questions.close();
        effects.ifPresent(EffectDesk::close);
        keeper.ifPresent(TrialKeeper::close);
    }
}
