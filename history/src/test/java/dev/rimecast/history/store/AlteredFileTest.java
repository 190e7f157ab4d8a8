package dev.rimecast.history.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.history.ToyLog;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.failure.AlteredDayException;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.query.Answers;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.store.StoredFile.Partition;
import dev.rimecast.history.table.Table;
import dev.rimecast.history.table.Taken;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Files that are as long as they were, and say something else. */
class AlteredFileTest {
    private static final Instant NOW = ToyLog.at(3 * 1440);

    @TempDir
    Path root;

    private HistoryDirectory directory() {
        return new HistoryDirectory(root.resolve("history"));
    }

    private HistoryWriter open() {
        return HistoryWriter.open(
                directory(), new Duck.Limits(128, 1, root.resolve("spill")), new Views(directory())::script);
    }

    private static void add(HistoryWriter writer, List<Taken> records) {
        writer.add(records, ToyLog.positions(records), List.of());
    }

    private List<String> ask(String sql) throws IOException {
        try (History history = History.open(root.resolve("history"), 128, false)) {
            return Answers.rows(history, sql);
        }
    }

    /** What a disk has altered: as long as before, with another byte. */
    private static void alter(Path file) throws IOException {
        byte[] bytes = Files.readAllBytes(file);
        bytes[bytes.length / 2] ^= 1;
        Files.write(file, bytes);
    }

    @Test
    void anAlteredBatch_isReadAgain_andMakesNoDays() throws Exception {
        HistoryWriter writer = open();
        ToyLog log = new ToyLog();
        for (int minute = 0; minute < 20; minute++) {
            log.minute(minute, "ice-1", -minute);
        }
        List<Taken> all = log.records();
        add(writer, all.subList(0, 10));
        add(writer, all.subList(10, 20));
        alter(directory().path(writer.manifest().batches(Table.READINGS).get(1)));

        assertThatThrownBy(() -> writer.tidy(Keep.STANDARD, NOW, true))
                .isInstanceOf(HistoryException.class)
                .hasMessageContaining("damaged: ");
        HistoryWriter again = open();

        Partition partition = log.positions().keySet().iterator().next();
        assertThat(again.manifest().positions()).isEqualTo(Map.of(partition, 10L));
        add(again, all.subList(10, 20));
        again.tidy(Keep.STANDARD, NOW, true);
        assertThat(ask("select count(*), min(evaporator_temperature) from readings"))
                .containsExactly("20|-19.0");
    }

    @Test
    void anAlteredDay_isSaidToWhomWantsItsBytesRead_andMakesNoNewOne() throws Exception {
        HistoryWriter writer = open();
        ToyLog log = new ToyLog().minute(1, "ice-1", -3).minute(1441, "ice-1", -4);
        add(writer, log.records());
        writer.tidy(Keep.STANDARD, NOW, true);
        StoredFile day = writer.manifest().of(Table.READINGS).findFirst().orElseThrow();
        Path path = directory().path(day);
        byte[] whole = Files.readAllBytes(path);
        alter(path);

        assertThatThrownBy(() -> History.open(root.resolve("history"), 128, false, true))
                .hasMessageContaining("altered")
                .hasMessageContaining(day.name());
        try (History history = History.open(root.resolve("history"), 128, true, true)) {
            assertThat(Answers.rows(history, "select evaporator_temperature from readings"))
                    .containsExactly("-4.0");
        }
        log.minute(2, "ice-1", -5);
        add(writer, log.records().subList(2, 3));
        assertThatThrownBy(() -> writer.tidy(Keep.STANDARD, NOW, true))
                .isInstanceOf(AlteredDayException.class)
                .hasMessageContaining(day.name());

        Files.write(path, whole);
        writer.tidy(Keep.STANDARD, NOW, true);
        try (History history = History.open(root.resolve("history"), 128, false, true)) {
            assertThat(Answers.rows(history, "select evaporator_temperature from readings order by time"))
                    .containsExactly("-3.0", "-5.0", "-4.0");
        }
    }

    @Test
    void anAlteredDay_keepsNothingElseFromBeingTidied() throws Exception {
        HistoryWriter writer = open();
        ToyLog log = new ToyLog().minute(1, "ice-1", -3).minute(1441, "ice-1", -4);
        add(writer, log.records());
        writer.tidy(Keep.STANDARD, NOW, true);
        alter(directory().path(writer.manifest().of(Table.READINGS).findFirst().orElseThrow()));
        log.minute(2, "ice-1", -5);
        add(writer, log.records().subList(2, 3));

        assertThatThrownBy(() -> writer.tidy(new Keep(Keep.STANDARD.age(), 1), NOW, true))
                .isInstanceOf(AlteredDayException.class);

        assertThat(writer.manifest()
                        .of(Table.READINGS)
                        .filter(file -> file.day().isPresent()))
                .as("what is too much has gone")
                .isEmpty();
        assertThat(writer.manifest().batches(Table.READINGS))
                .as("what waits for its day has not")
                .isNotEmpty();
    }

    @Test
    void aManifestWithoutSums_isRead_andItsFilesAreTakenByTheirLength() throws Exception {
        HistoryWriter writer = open();
        add(writer, new ToyLog().minute(1, "ice-1", -3).records());
        Path manifest = directory().root().resolve(HistoryDirectory.MANIFEST);
        String text = Files.readString(manifest);
        String before = text.replaceAll(",\\s*\"crc32c\"\\s*:\\s*\"[0-9a-f]{8}\"", "");
        assertThat(before).isNotEqualTo(text).doesNotContain("crc32c");
        Files.writeString(manifest, before);

        assertThat(open().manifest().files())
                .isNotEmpty()
                .allSatisfy(file -> assertThat(file.sum()).isEmpty());
        try (History history = History.open(root.resolve("history"), 128, false, true)) {
            assertThat(Answers.rows(history, "select evaporator_temperature from readings"))
                    .containsExactly("-3.0");
        }
    }

    /** CRC-32C of the nine digits: the check value that catalogues of CRCs give for CRC-32/ISCSI. */
    @Test
    void theSum_isCrc32c() throws Exception {
        Path file = root.resolve("digits");
        Files.writeString(file, "123456789");

        assertThat(FileSum.of(file)).isEqualTo("e3069283");
    }
}
