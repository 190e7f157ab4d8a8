package dev.rimecast.app.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.dashboard.bench.Run;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class RunDeskTest {
    @TempDir
    Path root;

    private Optional<Run> ask(RunDesk desk) {
        return desk.ask("back-test", "Ana", Instant.EPOCH, 1, 30, List.of(), (asked, past, pace) -> asked);
    }

    /** A history that can't be read is the answer, in its own words; the desk goes on. */
    @Test
    void questionThatFails_saysWhy_andIsNotCancelledAnyMore() {
        try (RunDesk desk = new RunDesk(root.resolve("none"))) {
            int id = ask(desk).orElseThrow().id();
            await().until(() -> desk.one(id).orElseThrow().state().equals("failed"));

            assertThat(desk.one(id).orElseThrow().problem().orElseThrow()).contains("there is no history in");
            assertThat(desk.cancel(id)).isFalse();
            assertThat(desk.cancel(99)).isFalse();
            int next = ask(desk).orElseThrow().id();
            assertThat(next).isEqualTo(id + 1);
            await().until(() -> desk.one(next).orElseThrow().state().equals("failed"));
        }
    }

    @Test
    void onlyTheLastAreKept() {
        try (RunDesk desk = new RunDesk(root.resolve("none"))) {
            for (int i = 0; i < 20; i++) {
                await().until(() -> ask(desk).isPresent());
            }
            assertThat(desk.all())
                    .hasSize(12)
                    .first()
                    .satisfies(newest -> assertThat(newest.id()).isEqualTo(20));
        }
    }
}
