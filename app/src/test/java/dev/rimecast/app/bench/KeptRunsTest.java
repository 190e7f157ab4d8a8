package dev.rimecast.app.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.LogRun;
import dev.rimecast.history.backtest.Progress;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.history.store.StoredFile.Partition;
import dev.rimecast.history.table.Taken;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Machine;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
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
        List<Taken> records = new ArrayList<>();
        add(records, "harbour", new SiteRecord.Registered(START, Machine.basic("ice-1", "harbour", "gw-1")));
        for (int minute = 0; minute < 60; minute++) {
            add(records, "", new SiteRecord.Tick(START.plus(Duration.ofMinutes(minute))));
        }
        HistoryDirectory directory = new HistoryDirectory(root.resolve("history"));
        HistoryWriter.open(directory, new Duck.Limits(128, 1, root.resolve("spill")), new Views(directory)::script)
                .add(records, Map.of(new Partition(Topics.SITES, "log", 0), (long) records.size()), List.of());
    }

    private static void add(List<Taken> records, String key, SiteRecord record) {
        records.add(new Taken(
                Topics.SITES,
                "log",
                0,
                records.size(),
                START.toEpochMilli() + 1000L * records.size(),
                key,
                SiteLogCodec.encode(record)));
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

        assertThat(decided.watched()).containsOnlyKeys("ice-1");
        assertThat(done).as("nothing is left to decide").containsExactly(61L);
        assertThat(kept()).hasSize(1);
    }
}
