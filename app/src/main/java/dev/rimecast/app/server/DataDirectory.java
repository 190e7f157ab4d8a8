package dev.rimecast.app.server;

import dev.rimecast.engines.PrivateDirectory;
import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import org.jspecify.annotations.Nullable;

/** Where everything that must survive is kept, for the eyes of its owner only. One process at a time. */
final class DataDirectory implements AutoCloseable {
    private final Path path;
    private final FileChannel channel;

    private DataDirectory(Path path, FileChannel channel) {
        this.path = path;
        this.channel = channel;
    }

    /**
     * Makes the directory if it is missing and takes it for this process. The lock ends with the process, however it
     * ends.
     *
     * @throws StartException if another process has it or it can't be written
     */
    static DataDirectory open(Path path) {
        Path absolute = path.toAbsolutePath().normalize();
        try {
            PrivateDirectory.make(absolute);
            FileChannel channel =
                    FileChannel.open(absolute.resolve("in-use"), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
            FileLock lock = tryLock(channel);
            if (lock == null) {
                channel.close();
                throw new StartException("the data directory " + absolute
                        + " is used by another process: stop that one, or choose another directory");
            }
            return new DataDirectory(absolute, channel);
        } catch (IOException e) {
            throw new StartException("the data directory " + absolute + " can't be used: " + e.getMessage(), e);
        }
    }

    private static @Nullable FileLock tryLock(FileChannel channel) throws IOException {
        try {
            return channel.tryLock();
        } catch (OverlappingFileLockException e) {
            return null;
        }
    }

    Path resolve(String name) {
        return path.resolve(name);
    }

    @Override
    public void close() throws IOException {
        channel.close();
    }
}
