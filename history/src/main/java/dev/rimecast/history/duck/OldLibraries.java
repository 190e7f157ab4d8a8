package dev.rimecast.history.duck;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;

/**
 * The driver unpacks its native library, 70 MB, into the system's temporary directory at each start, and deletes it when the
 * process ends by itself. What killed processes have left there is deleted by the next one: a process that still uses one has
 * it open, and does not need its name.
 */
final class OldLibraries {
    private static final Duration SURELY_LOADED = Duration.ofHours(1);

    private OldLibraries() {}

    /** Deletes what is older than an hour; what can't be deleted stays. */
    static void sweep(Path temporary, Instant now) {
        try (DirectoryStream<Path> found = Files.newDirectoryStream(temporary, "libduckdb_java*.so")) {
            for (Path library : found) {
                if (Files.getLastModifiedTime(library).toInstant().isBefore(now.minus(SURELY_LOADED))) {
                    Files.deleteIfExists(library);
                }
            }
        } catch (IOException | RuntimeException e) {
            // Of another user, or in use where that matters: no reason not to work.
        }
    }
}
