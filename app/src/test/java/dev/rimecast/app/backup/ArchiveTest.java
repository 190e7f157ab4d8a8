package dev.rimecast.app.backup;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The file itself: whole, torn, altered, of a later version. */
class ArchiveTest {
    private static final String TEXT = "one line\nand another\n".repeat(20);

    @TempDir
    Path directory;

    private Path file;

    @BeforeEach
    void write() throws IOException {
        file = written("good.zip", Manifest.FORMAT);
    }

    private Path written(String name, int format) throws IOException {
        Path to = directory.resolve(name);
        try (ArchiveWriter archive = new ArchiveWriter(to)) {
            archive.entry("database/site", out -> out.write(TEXT.getBytes(StandardCharsets.UTF_8)));
            archive.entry("topics/sites/0", out -> out.write(new byte[] {1, 2, 3}));
            archive.seal(new Manifest(
                    format,
                    "0.1.0",
                    "2026-05-04T00:00:00Z",
                    "16",
                    List.of(new Manifest.Table("site", List.of("id"), 1)),
                    List.of(new Manifest.Sequence("alert_sequence", 7, true)),
                    List.of(new Manifest.Topic("sites", 1, Map.of("retention.ms", "1"))),
                    List.of(new Manifest.Position("sites", 0, 3, "")),
                    archive.entries()));
        }
        return to;
    }

    @Test
    void archive_asWritten_isReadBack() throws IOException {
        try (Archive archive = Archive.verified(file);
                InputStream in = archive.open("database/site")) {
            assertThat(new String(in.readAllBytes(), StandardCharsets.UTF_8)).isEqualTo(TEXT);
            assertThat(archive.manifest().entries()).hasSize(2);
            assertThat(archive.manifest().positions()).containsExactly(new Manifest.Position("sites", 0, 3, ""));
        }
        assertThat(Restore.check(file)).contains("2026-05-04T00:00:00Z", "0.1.0", "1 rows", "1 topics");
    }

    @Test
    void archive_tornAnywhere_isRefused() throws IOException {
        byte[] whole = Files.readAllBytes(file);
        for (int length = 0; length < whole.length; length++) {
            Path torn = Files.write(directory.resolve("torn.zip"), Arrays.copyOf(whole, length));
            assertThatThrownBy(() -> Archive.verified(torn).close())
                    .as("the first %d of %d bytes", length, whole.length)
                    .isInstanceOf(BackupException.class)
                    .hasMessageContaining("torn.zip");
        }
    }

    /** A ZIP file has bytes that say nothing, such as times of day: those may change, what is in it may not. */
    @Test
    void archive_alteredAnywhere_isRefusedOrSaysTheSame() throws IOException {
        byte[] whole = Files.readAllBytes(file);
        int refused = 0;
        for (int at = 0; at < whole.length; at++) {
            byte[] altered = whole.clone();
            altered[at] ^= 0x10;
            Path other = Files.write(directory.resolve("altered.zip"), altered);
            try (Archive archive = Archive.verified(other);
                    InputStream in = archive.open("database/site")) {
                assertThat(new String(in.readAllBytes(), StandardCharsets.UTF_8))
                        .isEqualTo(TEXT);
            } catch (BackupException expected) {
                assertThat(expected).hasMessageContaining("altered.zip");
                refused++;
            }
        }
        assertThat(refused).as("of %d", whole.length).isGreaterThan(whole.length / 2);
    }

    @Test
    void archive_ofALaterFormat_isRefusedWithWhatToDo() throws IOException {
        Path later = written("later.zip", Manifest.FORMAT + 1);

        assertThatThrownBy(() -> Archive.verified(later))
                .isInstanceOf(BackupException.class)
                .hasMessageContaining("format 2")
                .hasMessageContaining("use the version of Rimecast that wrote it");
    }

    @Test
    void restore_intoADirectoryWithSomethingInIt_touchesNothing() throws IOException {
        Path data = Files.createDirectories(directory.resolve("data"));
        Path there = Files.writeString(data.resolve("note.txt"), "mine");

        assertThatThrownBy(() -> Restore.of(file, data))
                .isInstanceOf(BackupException.class)
                .hasMessageContaining("is not empty");
        assertThat(Files.readString(there)).isEqualTo("mine");
    }

    @Test
    void restore_ofATornArchive_makesNoDirectory() throws IOException {
        byte[] whole = Files.readAllBytes(file);
        Path torn = Files.write(directory.resolve("torn.zip"), Arrays.copyOf(whole, whole.length / 2));

        assertThatThrownBy(() -> Restore.of(torn, directory.resolve("data"))).isInstanceOf(BackupException.class);
        try (var left = Files.list(directory)) {
            assertThat(left.map(path -> path.getFileName().toString())).doesNotContain("data", "data.restoring");
        }
    }

    @Test
    void archive_isForItsOwnerOnly() throws IOException {
        assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(file)))
                .isEqualTo("rw-------");
    }

    @Test
    void restore_besideAnotherOne_isRefused_andItsWorkIsLeft() throws IOException {
        Path missing = directory.resolve("data");
        Path beside = Files.createDirectory(directory.resolve("data.restoring"));
        Path mounted = Files.createDirectory(directory.resolve("mounted"));
        Path inside = Files.createDirectory(mounted.resolve(".restoring"));

        for (Path target : List.of(missing, mounted)) {
            assertThatThrownBy(() -> Restore.of(file, target))
                    .isInstanceOf(BackupException.class)
                    .hasMessageContaining("another restore runs, or broke off");
        }
        assertThat(beside).exists();
        assertThat(inside).exists();
    }

    /** This archive has no schema that the database could have, so filling it fails. */
    @Test
    void restore_thatFails_leavesNothing() throws IOException {
        Path mounted = Files.createDirectory(directory.resolve("mounted"));

        assertThatThrownBy(() -> Restore.of(file, mounted)).isInstanceOf(BackupException.class);

        assertThat(mounted).isEmptyDirectory();
    }
}
