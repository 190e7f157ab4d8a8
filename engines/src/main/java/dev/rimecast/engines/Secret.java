package dev.rimecast.engines;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.SecureRandom;
import java.util.HexFormat;

/** A random password that lives in a file which only its owner can read. */
final class Secret {
    private static final int BYTES = 24;

    private Secret() {}

    /** Reads {@code file}, or makes it with 192 random bits. */
    static String inFile(Path file) throws IOException {
        if (!Files.exists(file)) {
            byte[] random = new byte[BYTES];
            new SecureRandom().nextBytes(random);
            Path half = file.resolveSibling(file.getFileName() + ".new");
            Files.deleteIfExists(half);
            Files.createFile(half, PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------")));
            // The database is made with it: after a power cut it must not be a name without a word.
            try (FileChannel channel = FileChannel.open(half, StandardOpenOption.WRITE)) {
                channel.write(StandardCharsets.US_ASCII.encode(HexFormat.of().formatHex(random)));
                channel.force(true);
            }
            Files.move(half, file, StandardCopyOption.ATOMIC_MOVE);
            // A new name is safe when its directory is.
            try (FileChannel channel = FileChannel.open(file.toAbsolutePath().getParent(), StandardOpenOption.READ)) {
                channel.force(true);
            }
        }
        return of(file);
    }

    /** Reads {@code file}, which must be there. */
    static String of(Path file) throws IOException {
        return Files.readString(file).strip();
    }
}
