package dev.rimecast.app.bench;

import dev.rimecast.alerts.view.Mark;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyText;
import dev.rimecast.dashboard.bench.Effect;
import dev.rimecast.history.backtest.Judged;
import dev.rimecast.history.effect.FleetShift;
import dev.rimecast.history.effect.LimitCount;
import dev.rimecast.history.effect.ReadyPast;
import dev.rimecast.history.effect.SiteShift;
import dev.rimecast.history.query.History;
import dev.rimecast.history.tune.FromCycles;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;

/** Numbers that somebody moves, and what they have come to so far. Steps are of one thread; anybody may look. */
final class EffectJob {
    private static final int MEMORY_MEGABYTES = 64;
    /** Summing up what was seen takes longer with each site; the page looks about as often. */
    private static final Duration TOLD_EACH = Duration.ofMillis(300);

    private final int id;
    private final String who;
    private final Policy inForce;
    /** Numbers that act on cycles. */
    private final Map<String, Double> ofCycles = new LinkedHashMap<>();

    private final Map<String, Double> limits = new LinkedHashMap<>();
    private final List<String> others = new ArrayList<>();
    private final List<SiteShift> seen = new ArrayList<>();

    private List<Effect.Limit> counts = List.of();
    private volatile boolean isWanted = true;
    private volatile Effect now;
    private long toldAt;
    private Optional<Begun> begun = Optional.empty();

    private record Begun(Policy candidate, ReadyPast.Known known, List<String> order, int alerts) {}

    EffectJob(int id, String who, Policy inForce, Map<String, Double> changes) {
        this.id = id;
        this.who = who;
        this.inForce = inForce;
        changes.forEach((path, value) -> {
            if (FromCycles.areOfCycles(List.of(path))) {
                ofCycles.put(path, value);
            } else if (LimitCount.isCounted(path)) {
                limits.put(path, value);
            } else {
                others.add(path);
            }
        });
        this.now = effect("preparing", Optional.empty());
    }

    private Effect effect(String state, Optional<Effect.Seen> what) {
        return new Effect(
                id,
                state,
                EffectDesk.DAYS,
                Optional.empty(),
                Optional.empty(),
                List.copyOf(ofCycles.keySet()),
                counts,
                others,
                what);
    }

    int id() {
        return id;
    }

    String who() {
        return who;
    }

    Policy inForce() {
        return inForce;
    }

    Effect look() {
        return now;
    }

    boolean isWanted() {
        return isWanted;
    }

    /** Nobody wants it any more. */
    synchronized void end() {
        isWanted = false;
        if (isOpen()) {
            now = effect("ended", Optional.empty());
        }
    }

    synchronized void fail(String why) {
        isWanted = false;
        if (isOpen()) {
            now = now.failed(why);
        }
    }

    /** An answer stays one, whatever is made ready later. */
    boolean isDone() {
        return now.state().equals("done");
    }

    boolean isOpen() {
        return now.state().equals("preparing") || now.state().equals("running");
    }

    private synchronized void told(Effect next) {
        if (isWanted) {
            now = next;
        }
    }

    /** Of the thread of steps: on another past, or not at all, so that sites seen are not kept. */
    void restart() {
        begun = Optional.empty();
        seen.clear();
    }

    /** Takes the next site; returns whether there is another. */
    boolean step(ReadyPast past, Path history, Supplier<List<Mark>> marks) {
        if (begun.isEmpty()) {
            begun = Optional.of(begin(past, marks.get()));
            counts = count(past, history);
        }
        Begun of = begun.get();
        List<String> order = of.order();
        if (ofCycles.isEmpty()) {
            told(effect("done", Optional.empty()));
            return false;
        }
        if (seen.size() < order.size()) {
            seen.add(past.shift(order.get(seen.size()), of.candidate(), of.known(), () -> isWanted));
        }
        boolean isDone = seen.size() == order.size();
        if (isDone || seen.size() == 1 || System.nanoTime() - toldAt >= TOLD_EACH.toNanos()) {
            told(effect(isDone ? "done" : "running", Optional.of(seen(past, of))));
            toldAt = System.nanoTime();
        }
        if (isDone) {
            restart();
        }
        return !isDone;
    }

    private Begun begin(ReadyPast past, List<Mark> marks) {
        Policy candidate = ofCycles.isEmpty() ? inForce : Policy.parse(PolicyText.of(inForce, "moved", ofCycles));
        ReadyPast.Known known = past.known(MarkedPast.labels(past.judged(), marks));
        return new Begun(candidate, known, past.order(known), past.alerts());
    }

    private List<Effect.Limit> count(ReadyPast past, Path history) {
        if (limits.isEmpty()) {
            return List.of();
        }
        Policy other = Policy.parse(PolicyText.of(inForce, "moved", limits));
        try (History read = History.open(history, MEMORY_MEGABYTES, true)) {
            return limits.keySet().stream()
                    .map(path -> LimitCount.of(read, path, past.judged().machines(), inForce, other, past.window()))
                    .map(count -> new Effect.Limit(
                            count.path(),
                            count.current().cycles(),
                            count.current().machines(),
                            count.candidate().cycles(),
                            count.candidate().machines()))
                    .toList();
        }
    }

    private Effect.Seen seen(ReadyPast past, Begun of) {
        Judged current = Judged.sum(seen.stream().map(SiteShift::current).toList());
        Judged candidate = Judged.sum(seen.stream().map(SiteShift::candidate).toList());
        Optional<FleetShift> fleet = past.fleet(seen, of.known());
        return new Effect.Seen(
                past.window().from(),
                past.window().to(),
                seen.size(),
                past.sites(),
                seen.stream().mapToInt(SiteShift::machines).sum(),
                past.machines(),
                (int) seen.stream().filter(SiteShift::isOtherwise).count(),
                current.watchedYears(),
                seen.stream().mapToInt(SiteShift::currentAlerts).sum(),
                seen.stream().mapToInt(SiteShift::candidateAlerts).sum(),
                PastWork.figures(current),
                PastWork.figures(candidate),
                of.alerts(),
                fleet.map(shift -> new Effect.Fleet(shift.more(), shift.low(), shift.high())));
    }
}
