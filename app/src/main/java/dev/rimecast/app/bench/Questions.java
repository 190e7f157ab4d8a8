package dev.rimecast.app.bench;

import dev.rimecast.alerts.policy.PolicyChange;
import dev.rimecast.dashboard.bench.Bench.Answer;
import dev.rimecast.dashboard.bench.Look;
import dev.rimecast.dashboard.bench.Run;
import dev.rimecast.dashboard.bench.Sheet;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;

/** Questions to the past, as they are put to the desk: whose, when, about what. */
final class Questions implements AutoCloseable {
    static final String NO_HISTORY =
            "This server writes no history (role history), and without one nothing of the past can be asked or tried.";
    private static final int MOST_WAITING = 4;

    private final Optional<RunDesk> runs;
    private final InstantSource clock;

    /** @param runs empty where no history is written */
    Questions(Optional<RunDesk> runs, InstantSource clock) {
        this.runs = runs;
        this.clock = clock;
    }

    List<Run> runs() {
        return runs.map(each -> each.all(Run.class)).orElse(List.of());
    }

    Answer<Run> ask(
            String kind, PolicyChange base, int days, List<Sheet.Change> changes, String who, RunDesk.Work<Run> work) {
        if (runs.isEmpty()) {
            return new Answer.NotPossible<>(NO_HISTORY);
        }
        Optional<Run> run = runs.get()
                .ask(
                        Run.class,
                        MOST_WAITING,
                        id -> new Run(
                                id,
                                kind,
                                "waiting",
                                who,
                                clock.instant(),
                                base.number(),
                                days,
                                changes,
                                Optional.empty(),
                                Optional.empty(),
                                Optional.empty(),
                                Optional.empty()),
                        work);
        return run.isPresent()
                ? new Answer.Done<>(run.get())
                : new Answer.NotPossible<>(MOST_WAITING + " questions wait already: cancel one, or wait for it.");
    }

    boolean cancel(int run) {
        return runs.filter(each -> each.cancel(Run.class, run)).isPresent();
    }

    Look.Looks looks() {
        List<Look> all = runs.map(each -> each.all(Look.class)).orElse(List.of());
        return new Look.Looks(
                all.stream().findFirst(),
                all.stream().filter(look -> look.found().isPresent()).findFirst());
    }

    Answer<Look> look(int days, int fitDays, String who) {
        if (runs.isEmpty()) {
            return new Answer.NotPossible<>(NO_HISTORY);
        }
        return new Answer.Done<>(runs.get()
                .ask(
                        Look.class,
                        1,
                        id -> new Look(
                                id,
                                "waiting",
                                who,
                                clock.instant(),
                                days,
                                fitDays,
                                Optional.empty(),
                                Optional.empty(),
                                Optional.empty()),
                        FleetWork::look)
                .or(() -> looks().newest())
                .orElseThrow());
    }

    boolean endLook() {
        return looks().newest()
                .filter(look -> runs.orElseThrow().cancel(Look.class, look.id()))
                .isPresent();
    }

    @Override
    public void close() {
        runs.ifPresent(RunDesk::close);
    }
}
