package dev.rimecast.app.bench;

import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.LogRun;
import dev.rimecast.history.backtest.Progress;
import dev.rimecast.history.backtest.Resume;
import dev.rimecast.history.backtest.Start;
import dev.rimecast.history.query.History;
import dev.rimecast.history.tune.FromCycles;
import dev.rimecast.history.tune.Tapes;
import dev.rimecast.history.tune.Variant;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * What all readings have come to, by the policy that was asked about last: numbers that act on cycles are tried on that in seconds. Only the
 * first question after a start, after a change of the policy, and once a day goes through the readings.
 */
final class TapedPast {
    private static final Duration FRESH = Duration.ofDays(1);

    private final Path directory;
    private Optional<Taped> last = Optional.empty();

    private record Taped(String question, Instant newest, Decided base, Tapes tapes) {}

    /** @param directory of these only; what an earlier process has left there goes */
    TapedPast(Path directory) {
        this.directory = directory;
    }

    /** Decides each variant; the first is the policy as it is. */
    Decided sweep(History past, List<Variant> variants, int threads, Progress progress) {
        String question = Resume.question(List.of(variants.get(0).trial()));
        Instant newest = Start.newestMinute(past).orElse(Instant.EPOCH);
        boolean isFresh = last.filter(taped -> taped.question().equals(question)
                        && Duration.between(taped.newest(), newest).abs().compareTo(FRESH) < 0)
                .isPresent();
        if (!isFresh) {
            last = Optional.empty();
            last = Optional.of(taped(past, variants.get(0), question, newest, threads, progress));
        }
        Taped taped = last.orElseThrow();
        return FromCycles.decide(taped.base(), variants, taped.tapes(), threads);
    }

    private Taped taped(History past, Variant asItIs, String question, Instant newest, int threads, Progress progress) {
        Tapes tapes = emptied();
        boolean isWhole = false;
        try {
            LogRun.Trial trial = new LogRun.Trial(asItIs.name(), Optional.of(asItIs.policy()), Optional.of(tapes::of));
            Decided base = LogRun.run(past, List.of(trial), threads, progress);
            tapes.end();
            isWhole = true;
            return new Taped(question, newest, base, tapes);
        } finally {
            if (!isWhole) {
                tapes.close();
            }
        }
    }

    private Tapes emptied() {
        try {
            Files.createDirectories(directory);
            try (Stream<Path> left = Files.list(directory)) {
                for (Path file : left.toList()) {
                    Files.delete(file);
                }
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return new Tapes(directory);
    }
}
