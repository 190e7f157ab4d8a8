package dev.rimecast.telemetry.file.csv;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class DataFilesTest {
    private static final long SEED = 21;

    @TempDir
    Path directory;

    private static byte[] bytes() {
        byte[] bytes = new byte[200_000];
        new Random(SEED).nextBytes(bytes);
        return bytes;
    }

    private Path written(String name) throws IOException {
        Path file = directory.resolve(name);
        try (OutputStream out = DataFiles.create(file)) {
            out.write(bytes());
        }
        return file;
    }

    private static byte[] read(Path file) throws IOException {
        try (InputStream in = DataFiles.open(file)) {
            return in.readAllBytes();
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"log.csv", "log.csv.gz", "log.csv.zst"})
    void file_whole_isReadAsItWasWritten(String name) throws IOException {
        assertThat(read(written(name))).isEqualTo(bytes());
    }

    @ParameterizedTest
    @ValueSource(strings = {"log.csv.gz", "log.csv.zst"})
    void file_cutOff_isNamed(String name) throws IOException {
        Path file = written(name);
        byte[] whole = Files.readAllBytes(file);
        for (int length : new int[] {1, 9, whole.length / 2, whole.length - 1}) {
            Files.write(file, Arrays.copyOf(whole, length));
            assertThatThrownBy(() -> read(file))
                    .as("%d of %d bytes", length, whole.length)
                    .isInstanceOf(InputProblems.class)
                    .hasMessage(file
                            + ": is cut off or damaged, or not compressed as its name says: take a whole copy of it");
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"log.csv.gz", "log.csv.zst"})
    void file_notCompressed_isNamed(String name) throws IOException {
        Path file = directory.resolve(name);
        Files.writeString(file, "time,machine\n");
        assertThatThrownBy(() -> read(file)).isInstanceOf(InputProblems.class).hasMessageStartingWith(file.toString());
    }
}
