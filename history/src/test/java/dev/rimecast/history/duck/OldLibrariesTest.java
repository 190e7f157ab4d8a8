package dev.rimecast.history.duck;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class OldLibrariesTest {
    @TempDir
    Path directory;

    @Test
    void whatKilledProcessesHaveLeft_goes_andNothingElse() throws Exception {
        Instant now = Instant.now();
        Path left = file("libduckdb_java123.so", now.minus(Duration.ofHours(2)));
        Path fresh = file("libduckdb_java124.so", now.minus(Duration.ofMinutes(5)));
        Path others = file("libother.so", now.minus(Duration.ofDays(2)));

        OldLibraries.sweep(directory, now);
        OldLibraries.sweep(directory.resolve("missing"), now);

        assertThat(left).doesNotExist();
        assertThat(fresh).exists();
        assertThat(others).exists();
    }

    private Path file(String name, Instant modified) throws Exception {
        Path file = Files.writeString(directory.resolve(name), "");
        Files.setLastModifiedTime(file, FileTime.from(modified));
        return file;
    }
}
