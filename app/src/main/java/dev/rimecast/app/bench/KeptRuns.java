package dev.rimecast.app.bench;

import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.LogRun;
import dev.rimecast.history.backtest.Progress;
import dev.rimecast.history.backtest.Resume;
import dev.rimecast.history.backtest.Start;
import dev.rimecast.history.query.History;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * What questions that were cancelled, or that a stop of the server has ended, have decided: whoever asks the same again goes on from there.
 * Of the newest two; a directory each.
 */
final class KeptRuns {
    private static final Logger LOG = LoggerFactory.getLogger(KeptRuns.class);
    private static final int MOST = 2;
    private static final int NAME = 16;

    private final Path root;

    /** @param root of these only */
    KeptRuns(Path root) {
        this.root = root;
    }

    /** Decides all of the history, or goes on with it. */
    Decided decide(History past, List<LogRun.Trial> trials, int threads, Progress progress) {
        String name = Resume.question(trials).substring(0, NAME);
        forgetOthers(name);
        try (Resume kept = Resume.in(root.resolve(name), LOG::info)) {
            Decided decided = LogRun.run(past, trials, threads, progress, Start.ofTheLog(past), kept);
            kept.done();
            return decided;
        }
    }

    private void forgetOthers(String name) {
        if (!Files.isDirectory(root)) {
            return;
        }
        try (Stream<Path> directories = Files.list(root)) {
            List<Path> old = directories
                    .filter(each -> Files.isDirectory(each) && !each.endsWith(name))
                    .sorted(Comparator.comparing(KeptRuns::changed).reversed())
                    .skip(MOST - 1)
                    .toList();
            for (Path directory : old) {
                try (Resume kept = Resume.in(directory, LOG::info)) {
                    kept.done();
                }
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static FileTime changed(Path directory) {
        try {
            return Files.getLastModifiedTime(directory);
        } catch (IOException gone) {
            return FileTime.fromMillis(0);
        }
    }
}
