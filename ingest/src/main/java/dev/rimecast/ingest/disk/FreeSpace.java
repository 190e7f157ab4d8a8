package dev.rimecast.ingest.disk;

import java.io.IOException;
import java.nio.file.FileStore;
import java.nio.file.Files;
import java.nio.file.Path;

/** How much room there is on a disk. */
public interface FreeSpace {
    /** What this process may still write, bytes. */
    long bytes() throws IOException;

    /** Of the disk under a directory. */
    static FreeSpace of(Path directory) {
        return new FreeSpace() {
            @Override
            public long bytes() throws IOException {
                FileStore store = Files.getFileStore(directory);
                return store.getUsableSpace();
            }

            @Override
            public String toString() {
                return directory.toString();
            }
        };
    }
}
