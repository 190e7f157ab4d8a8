package dev.rimecast.history.backtest;

import dev.rimecast.analytics.finding.FindingBook;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.state.StateFile;
import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * Where a back-test keeps what it has decided, so that one that was interrupted goes on: a file for each partition, with the monitors and
 * what they have said up to an offset. It goes on to the end that the history has then, and comes to what it would have come to at
 * once. A file of other policies, another version of detection or another log is not used, nor one that is damaged; that partition
 * is decided anew.
 *
 * <p>On disk are the monitors of each policy, some 8 KB a machine, and what they have raised, until {@link #done}.
 */
public final class Resume implements AutoCloseable {
    private static final String LOCK = "lock";
    private static final String PREFIX = "partition-";

    private final Optional<Path> directory;
    private final Consumer<String> told;
    private final @Nullable FileChannel lock;

    private Resume(Optional<Path> directory, Consumer<String> told, @Nullable FileChannel lock) {
        this.directory = directory;
        this.told = told;
        this.lock = lock;
    }

    /** Keeps nothing. */
    public static Resume none() {
        return new Resume(Optional.empty(), said -> {}, null);
    }

    /**
     * Keeps it in a directory, which is made when it is missing.
     *
     * @param told what can't be used, and why
     * @throws HistoryException if it can't be used, or another back-test uses it
     */
    public static Resume in(Path directory, Consumer<String> told) {
        try {
            Files.createDirectories(directory);
            FileChannel channel =
                    FileChannel.open(directory.resolve(LOCK), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
            try {
                if (channel.tryLock() != null) {
                    return new Resume(Optional.of(directory), told, channel);
                }
            } catch (OverlappingFileLockException ours) {
                // By this process; told below.
            }
            channel.close();
        } catch (IOException e) {
            throw new HistoryException("what is decided can't be kept in " + directory + ": " + e.getMessage(), e);
        }
        throw new HistoryException("another back-test keeps what it has decided in " + directory
                + ": wait for it, or name another directory");
    }

    boolean isKept() {
        return directory.isPresent();
    }

    /** How far a partition is; empty where it has to begin. */
    Optional<PartitionRun.Reached> read(Stretch stretch, List<LogRun.Trial> trials) {
        return directory.flatMap(root -> StateFile.read(
                file(root, stretch),
                key(stretch, trials),
                in -> PartitionRun.Reached.read(in, trials),
                why -> told.accept(why + ": partition " + stretch.partition() + " is decided from its beginning")));
    }

    void write(Stretch stretch, List<LogRun.Trial> trials, PartitionRun.Reached reached) {
        directory.ifPresent(root -> StateFile.write(file(root, stretch), key(stretch, trials), reached::write));
    }

    private static Path file(Path root, Stretch stretch) {
        return root.resolve(PREFIX + stretch.partition() + ".state");
    }

    private static String key(Stretch stretch, List<LogRun.Trial> trials) {
        return question(trials) + '|' + stretch.log() + '|' + stretch.partition() + '|' + stretch.from();
    }

    /** Of which policies, by which version of detection: a digest. */
    public static String question(List<LogRun.Trial> trials) {
        StringBuilder text = new StringBuilder(FindingBook.DETECTOR_VERSION)
                .append('\n')
                .append(Policy.standard().yaml());
        trials.forEach(trial ->
                text.append("\u0000").append(trial.policy().map(Policy::yaml).orElse("live")));
        try {
            byte[] digest =
                    MessageDigest.getInstance("SHA-256").digest(text.toString().getBytes(StandardCharsets.UTF_8));
            return HexFormat.of().formatHex(digest);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }

    /** The answer is there: what was kept goes. */
    public void done() {
        directory.ifPresent(root -> {
            try {
                try (Stream<Path> files = Files.list(root)) {
                    for (Path file : files.filter(each -> {
                                String name = String.valueOf(each.getFileName());
                                return name.startsWith(PREFIX) || name.equals(LOCK);
                            })
                            .toList()) {
                        Files.delete(file);
                    }
                }
                try (Stream<Path> others = Files.list(root)) {
                    if (others.findAny().isEmpty()) {
                        Files.delete(root);
                    }
                }
            } catch (IOException e) {
                throw new HistoryException("what was kept in " + root + " can't be deleted: " + e.getMessage(), e);
            }
        });
    }

    /** Lets go of the directory; what is in it stays, but for {@link #done}. */
    @Override
    public void close() {
        if (lock != null) {
            try {
                lock.close();
            } catch (IOException e) {
                throw new HistoryException("a lock can't be let go of: " + e.getMessage(), e);
            }
        }
    }
}
