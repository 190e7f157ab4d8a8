package dev.rimecast.engines;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFileAttributeView;
import java.nio.file.attribute.PosixFilePermission;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.EnumSet;
import java.util.Set;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Directories that only their owner can look into. */
public final class PrivateDirectory {
    private static final Logger LOG = LoggerFactory.getLogger(PrivateDirectory.class);
    private static final Set<PosixFilePermission> OTHERS =
            EnumSet.complementOf(EnumSet.copyOf(PosixFilePermissions.fromString("rwx------")));

    private PrivateDirectory() {}

    /**
     * Makes {@code directory} if it is missing, and takes from one that is there what its group and others may do. Where that can't be
     * (another owner, a file system without modes), it says so and goes on.
     */
    public static void make(Path directory) throws IOException {
        boolean isNew = Files.notExists(directory);
        Files.createDirectories(directory);
        PosixFileAttributeView view = Files.getFileAttributeView(directory, PosixFileAttributeView.class);
        if (view == null) {
            return;
        }
        Set<PosixFilePermission> allowed = EnumSet.noneOf(PosixFilePermission.class);
        allowed.addAll(view.readAttributes().permissions());
        if (!allowed.removeAll(OTHERS)) {
            return;
        }
        try {
            view.setPermissions(allowed);
            if (!isNew) {
                LOG.info("{} is for its owner only now", directory);
            }
        } catch (IOException e) {
            LOG.warn("others can look into {}: {}; set its mode to 0700", directory, e.toString());
        }
    }
}
