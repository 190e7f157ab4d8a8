package dev.rimecast.app.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.dashboard.bench.Look;
import dev.rimecast.dashboard.bench.Run;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.HistoryWriter;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class RunDeskTest {
    @TempDir
    Path root;

    private static Optional<Run> ask(RunDesk desk, RunDesk.Work<Run> work) {
        return desk.ask(
                Run.class,
                4,
                id -> new Run(
                        id,
                        "back-test",
                        "waiting",
                        "Ana",
                        Instant.EPOCH,
                        1,
                        30,
                        List.of(),
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty()),
                work);
    }

    private static Optional<Run> ask(RunDesk desk) {
        return ask(desk, (asked, past, pace) -> asked);
    }

    private static Optional<Look> look(RunDesk desk) {
        return desk.ask(
                Look.class,
                1,
                id -> new Look(
                        id,
                        "waiting",
                        "Ana",
                        Instant.EPOCH,
                        60,
                        14,
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty()),
                FleetWork::look);
    }

    private static Run one(RunDesk desk, int id) {
        return desk.all(Run.class).stream()
                .filter(run -> run.id() == id)
                .findFirst()
                .orElseThrow();
    }

    /** A history that can't be read is the answer, in its own words; the desk goes on. */
    @Test
    void questionThatFails_saysWhy_andIsNotCancelledAnyMore() {
        try (RunDesk desk = new RunDesk(root.resolve("none"))) {
            int id = ask(desk).orElseThrow().id();
            await().until(() -> one(desk, id).state().equals("failed"));

            assertThat(one(desk, id).problem().orElseThrow()).contains("there is no history in");
            assertThat(desk.cancel(Run.class, id)).isFalse();
            assertThat(desk.cancel(Run.class, 99)).isFalse();
            int next = ask(desk).orElseThrow().id();
            assertThat(next).isEqualTo(id + 1);
            await().until(() -> one(desk, next).state().equals("failed"));
        }
    }

    @Test
    void onlyTheLastAreKept() {
        try (RunDesk desk = new RunDesk(root.resolve("none"))) {
            for (int i = 0; i < 20; i++) {
                await().until(() -> ask(desk).isPresent());
            }
            assertThat(desk.all(Run.class))
                    .hasSize(12)
                    .first()
                    .satisfies(newest -> assertThat(newest.id()).isEqualTo(20));
        }
    }

    /** Whoever looks at the fleet takes no place of whoever asks about policies, in the queue and among what is kept. */
    @Test
    void kindsAreKeptApart_andTakeTurns() throws InterruptedException {
        CountDownLatch begun = new CountDownLatch(1);
        CountDownLatch goOn = new CountDownLatch(1);
        try (RunDesk desk = new RunDesk(historyOfNothing())) {
            int running = ask(desk, (asked, past, pace) -> {
                        begun.countDown();
                        await().until(() -> goOn.getCount() == 0);
                        pace.at(1, 2);
                        return asked;
                    })
                    .orElseThrow()
                    .id();
            begun.await();
            int waiting = look(desk).orElseThrow().id();
            assertThat(look(desk)).as("one at a time").isEmpty();
            assertThat(ask(desk)).as("of the other kind").isPresent();
            assertThat(desk.all(Look.class)).hasSize(1);
            assertThat(desk.cancel(Run.class, waiting))
                    .as("by the other kind's number")
                    .isFalse();
            assertThat(desk.cancel(Look.class, waiting)).isTrue();
            assertThat(desk.all(Look.class).get(0).state()).isEqualTo("cancelled");
            int next = look(desk).orElseThrow().id();
            assertThat(desk.cancel(Run.class, running)).isTrue();
            goOn.countDown();
            await().until(() -> desk.all(Look.class).get(0).state().equals("failed"));

            assertThat(one(desk, running).state()).isEqualTo("cancelled");
            assertThat(desk.all(Look.class)).extracting(Look::id).containsExactly(next, waiting);
            assertThat(desk.all(Look.class).get(0).problem().orElseThrow()).contains("no complete cycle yet");
        }
    }

    private Path historyOfNothing() {
        HistoryDirectory directory = new HistoryDirectory(root.resolve("history"));
        HistoryWriter.open(directory, new Duck.Limits(128, 1, root.resolve("spill")), new Views(directory)::script)
                .add(List.of(), Map.of(), List.of());
        return directory.root();
    }
}
