package dev.rimecast.engines;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import org.jspecify.annotations.Nullable;

/** Holds a directory for one process. The operating system lets go of it when the process ends, however it ends. */
final class DirectoryLock implements AutoCloseable {
    private final FileChannel channel;

    private DirectoryLock(FileChannel channel) {
        this.channel = channel;
    }

    /**
     * @throws EngineException if somebody else holds {@code directory}
     */
    static DirectoryLock acquire(Path directory) throws IOException {
        PrivateDirectory.make(directory);
        Path file = directory.resolve("in-use.lock");
        FileChannel channel = FileChannel.open(file, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
        if (tryLock(channel) == null) {
            channel.close();
            throw new EngineException("the data directory " + directory
                    + " is in use by another process: stop that one, or give this one a directory of its own");
        }
        return new DirectoryLock(channel);
    }

    private static @Nullable FileLock tryLock(FileChannel channel) throws IOException {
        try {
            return channel.tryLock();
        } catch (OverlappingFileLockException heldByThisProcess) {
            return null;
        }
    }

    @Override
    public void close() throws IOException {
        channel.close();
    }
}
