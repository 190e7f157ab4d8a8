package dev.rimecast.app.backup;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;

/** A backup has every secret of the database in it: only whoever makes it may read it, where the file system knows of that. */
public final class OwnFile {
    private OwnFile() {}

    /**
     * Makes an empty file.
     *
     * @throws java.nio.file.FileAlreadyExistsException if it is there
     */
    public static void create(Path file) throws IOException {
        if (file.getFileSystem().supportedFileAttributeViews().contains("posix")) {
            Files.createFile(file, PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------")));
        } else {
            Files.createFile(file);
        }
    }
}
