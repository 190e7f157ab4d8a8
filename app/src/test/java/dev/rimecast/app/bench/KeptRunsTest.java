package dev.rimecast.app.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.LogRun;
import dev.rimecast.history.backtest.Progress;
import dev.rimecast.history.query.History;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Of a log of one hour in which nothing is said. */
class KeptRunsTest {
    private static final Instant START = Instant.parse("2026-03-01T00:00:00Z");
    private static final Progress CANCELLED = (done, all) -> {
        throw new Pace.Stopped();
    };

    @TempDir
    Path root;

    private void write() {
        HourOfLog.write(root, START, List.of("harbour"));
    }

    private Decided ask(double limit, Progress progress) {
        Policy policy = Policy.parse("version: p\nall: {limits: {condensing_celsius: " + limit + "}}\n");
        try (History past = History.open(root.resolve("history"), 128, false)) {
            return new KeptRuns(root.resolve("asked"))
                    .decide(past, List.of(new LogRun.Trial("p", Optional.of(policy))), 1, progress);
        }
    }

    private List<Path> kept() throws IOException {
        try (Stream<Path> directories = Files.list(root.resolve("asked"))) {
            return directories.sorted().toList();
        }
    }

    @Test
    void whatWasCancelled_isKept_ofTheNewestTwo_andGoesWithTheAnswer() throws IOException {
        write();
        for (double limit : new double[] {50, 55, 60}) {
            assertThatThrownBy(() -> ask(limit, CANCELLED)).isInstanceOf(Pace.Stopped.class);
        }
        assertThat(kept()).hasSize(2);
        List<Long> done = new ArrayList<>();

        Decided decided = ask(60, (now, all) -> done.add(now));

        assertThat(decided.watched()).containsOnlyKeys("ice-harbour");
        assertThat(done).as("nothing is left to decide").containsExactly(61L);
        assertThat(kept()).hasSize(1);
    }
}
