package dev.rimecast.history.store;

import static dev.rimecast.history.ToyLog.temperature;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.history.ToyLog;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.query.Answers;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.store.StoredFile.Partition;
import dev.rimecast.history.table.Table;
import dev.rimecast.history.table.Taken;
import dev.rimecast.telemetry.log.EventKind;
import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class HistoryWriterTest {
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

    @Test
    void whatWasTaken_isThere_afterItBecameDays_too() throws Exception {
        ToyLog log = new ToyLog();
        for (int minute = 0; minute < 3 * 1440; minute += 60) {
            log.minute(minute, "ice-1", -minute / 100.0).tick(minute).cycle(minute, "ice-1");
        }
        log.event(100, "ice-1", EventKind.VISIT, "scale").garbage();
        HistoryWriter writer = open();

        long unreadable = writer.add(log.records(), log.positions(), List.of());

        assertThat(unreadable).as("unreadable").isEqualTo(1);
        List<String> sums = List.of("72|-1533.60|72", "72", "144", "1");
        assertThat(sums()).isEqualTo(sums);
        writer.tidy(Keep.STANDARD, NOW, true);
        assertThat(writer.manifest().files()).allMatch(file -> !file.isBatch());
        assertThat(writer.manifest().of(Table.READINGS).map(StoredFile::rows)).containsExactly(24L, 24L, 24L);
        assertThat(sums()).isEqualTo(sums);
        assertThat(writer.manifest().positions()).isEqualTo(log.positions());
    }

    private List<String> sums() throws IOException {
        return Stream.of(
                        "select count(*), sum(evaporator_temperature)::decimal(12,2), count(distinct phase || time) from readings",
                        "select count(*) from cycles where pull_down_expected = 380",
                        "select count(*) from packs",
                        "select count(*) from events where event = 'visit' and detail = 'scale' and happened_at = '2026-03-01 01:40:00'")
                .map(sql -> {
                    try {
                        return ask(sql).get(0);
                    } catch (IOException e) {
                        throw new java.io.UncheckedIOException(e);
                    }
                })
                .toList();
    }

    /** By the contract the triple of machine, channel and time is the identity of a reading, and what was first stored stands. */
    @Test
    void repeats_standOnce_andOfOtherValuesTheFirst_beforeAndAfterCompaction() throws Exception {
        ToyLog log = new ToyLog();
        log.pack(temperature(1, "ice-1", -3), temperature(1, "ice-1", -99));
        log.minute(1, "ice-1", -4).minute(1, "ice-1", -5).minute(2, "ice-1", -6);
        List<String> expected =
                List.of("2026-03-01T00:01:00.000Z|-3.0|41.25|freeze", "2026-03-01T00:02:00.000Z|-6.0|41.25|freeze");
        String sql = "select time, evaporator_temperature, condenser_temperature, phase from readings order by time";
        HistoryWriter writer = open();
        add(writer, log.records());

        assertThat(ask(sql)).isEqualTo(expected);
        writer.tidy(Keep.STANDARD, NOW, true);
        assertThat(ask(sql)).isEqualTo(expected);

        log.minute(2, "ice-1", -7).pack(temperature(2, "ice-2", -8));
        add(writer, log.records().subList(4, 6));
        assertThat(ask(sql + ", machine"))
                .containsExactly(expected.get(0), expected.get(1), "2026-03-01T00:02:00.000Z|-8.0||");
        writer.tidy(Keep.STANDARD, NOW, true);
        assertThat(ask(sql + ", machine"))
                .containsExactly(expected.get(0), expected.get(1), "2026-03-01T00:02:00.000Z|-8.0||");
        assertThat(writer.manifest().of(Table.READINGS)).singleElement().matches(file -> file.rows() == 3);
    }

    @Test
    void aKillBeforeTheManifest_leavesNothing() throws Exception {
        HistoryWriter writer = open();
        ToyLog log = new ToyLog().minute(1, "ice-1", -3);
        add(writer, log.records());
        byte[] manifest = Files.readAllBytes(directory().root().resolve(HistoryDirectory.MANIFEST));
        log.minute(2, "ice-1", -4);
        add(writer, log.records().subList(1, 2));
        Files.write(directory().root().resolve(HistoryDirectory.MANIFEST), manifest);
        Files.writeString(directory().root().resolve("readings/batch-x.parquet.unfinished"), "half");

        HistoryWriter again = open();

        assertThat(again.manifest().positions().values()).containsExactly(1L);
        try (Stream<Path> files = Files.list(directory().root().resolve("readings"))) {
            assertThat(files).hasSize(1);
        }
        add(again, log.records().subList(1, 2));
        assertThat(ask("select count(*) from readings")).containsExactly("2");
    }

    @Test
    void aTornBatch_isReadAgain_andNothingIsTwice() throws Exception {
        HistoryWriter writer = open();
        ToyLog log = new ToyLog();
        for (int minute = 0; minute < 30; minute++) {
            log.minute(minute, "ice-1", -minute).tick(minute);
        }
        log.event(5, "", EventKind.CALL, "no-ice");
        List<Taken> all = log.records();
        add(writer, all.subList(0, 20));
        add(writer, all.subList(20, 40));
        add(writer, all.subList(40, all.size()));
        StoredFile torn = writer.manifest().batches(Table.READINGS).get(1);
        cut(directory().path(torn), 100);

        assertThatThrownBy(() -> ask("select 1"))
                .isInstanceOf(HistoryException.class)
                .hasMessageContaining(directory().path(torn).toString())
                .hasMessageContaining("--without-damaged");
        HistoryWriter again = open();

        Partition partition = log.positions().keySet().iterator().next();
        assertThat(again.manifest().positions()).isEqualTo(Map.of(partition, 20L));
        assertThat(directory().root().resolve("damaged")).isDirectoryContaining("glob:**batch-*");
        add(again, all.subList(20, all.size()));
        again.tidy(Keep.STANDARD, NOW, false);
        assertThat(
                        ask(
                                "select (select count(*) from readings), (select count(*) from packs), (select count(*) from events)"))
                .containsExactly("30|60|1");
    }

    private static void cut(Path file, int bytes) throws IOException {
        try (FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE)) {
            channel.truncate(channel.size() - bytes);
        }
    }

    @Test
    void aTornDay_isSaid_andCanBeLeftOut() throws Exception {
        HistoryWriter writer = open();
        ToyLog log = new ToyLog().minute(1, "ice-1", -3).minute(1441, "ice-1", -4);
        add(writer, log.records());
        writer.tidy(Keep.STANDARD, NOW, true);
        StoredFile day = writer.manifest().of(Table.READINGS).findFirst().orElseThrow();
        cut(directory().path(day), 1);
        open();

        assertThatThrownBy(() -> ask("select 1"))
                .hasMessageContaining("cut off or missing")
                .hasMessageContaining(day.name());
        try (History history = History.open(root.resolve("history"), 128, true)) {
            assertThat(Answers.rows(history, "select evaporator_temperature from readings"))
                    .containsExactly("-4.0");
        }
    }

    /** Files of another version, or that somebody has put there. */
    @Test
    void missingColumns_areEmpty_andUnknownOnesIgnored() throws Exception {
        HistoryWriter writer = open();
        add(writer, new ToyLog().minute(1, "ice-1", -3).minute(2, "ice-1", -4).records());
        StoredFile file = writer.manifest().batches(Table.READINGS).get(0);
        Path path = directory().path(file);
        try (Duck duck = Duck.open(new Duck.Limits(128, 1, root.resolve("spill")))) {
            duck.run("copy (select * exclude (phase), 7 as moon from read_parquet(" + Duck.literal(path.toString())
                    + ")) to " + Duck.literal(path + ".new") + " (format parquet)");
        }
        Files.move(Path.of(path + ".new"), path, java.nio.file.StandardCopyOption.REPLACE_EXISTING);
        Manifest before = writer.manifest();
        Manifest after = before.next(
                before.positions(),
                before.files().stream()
                        .map(each -> each.equals(file) ? resized(each, path) : each)
                        .toList(),
                List.of());
        directory().publish(after, "");

        String sql = "select evaporator_temperature, phase from readings order by time";
        assertThat(ask(sql)).containsExactly("-3.0|", "-4.0|");
        HistoryWriter again = open();
        again.tidy(Keep.STANDARD, NOW, true);
        assertThat(ask(sql)).containsExactly("-3.0|", "-4.0|");
        assertThatThrownBy(() -> ask("select moon from readings"))
                .isInstanceOf(HistoryException.class)
                .hasMessageContaining("moon");
    }

    private static StoredFile resized(StoredFile file, Path path) {
        return new StoredFile(
                file.table(),
                file.name(),
                file.day(),
                file.rows(),
                path.toFile().length(),
                file.fromMicros(),
                file.toMicros(),
                file.offsets());
    }

    @Test
    void days_goByAgeAndByBytes_andRecordsStay() throws Exception {
        HistoryWriter writer = open();
        ToyLog log = new ToyLog();
        for (int day = 0; day < 5; day++) {
            log.minute(1440 * day, "ice-1", -day).cycle(1440 * day, "ice-1");
        }
        log.event(1, "ice-1", EventKind.CLEANED, "");
        add(writer, log.records());

        writer.tidy(new Keep(Duration.ofDays(3), 1_000_000_000), ToyLog.at(5 * 1440), true);
        assertThat(
                        ask(
                                "select (select count(*) from readings), (select count(*) from cycles), (select count(*) from events)"))
                .containsExactly("3|3|1");
        writer.tidy(new Keep(Duration.ofDays(3), 1), ToyLog.at(5 * 1440), true);
        assertThat(
                        ask(
                                "select (select count(*) from readings), (select count(*) from cycles), (select count(*) from events)"))
                .containsExactly("0|3|1");
        writer.tidy(new Keep(Duration.ofDays(3), 1), ToyLog.at(5 * 1440), true);
        try (Stream<Path> files = Files.list(directory().root().resolve("readings"))) {
            assertThat(files).as("files that nobody names").isEmpty();
        }
    }

    /** Whoever opened the history before reads to the end of it, over compaction, retention and a restart. */
    @Test
    void whoReads_keepsTheFiles_forADay() throws Exception {
        HistoryWriter writer = open();
        ToyLog log = new ToyLog();
        for (int day = 0; day < 5; day++) {
            log.minute(1440 * day, "ice-1", -day);
        }
        add(writer, log.records());
        Keep keep = new Keep(Duration.ofDays(3), 1_000_000_000);
        String sql = "select count(*) from readings";
        try (History begun = History.open(root.resolve("history"), 128, false)) {
            writer.tidy(keep, ToyLog.at(5 * 1440), true);
            writer.tidy(keep, ToyLog.at(5 * 1440 + 1), false);
            assertThat(Answers.rows(begun, sql)).containsExactly("5");
            writer = open();
            writer.tidy(keep, ToyLog.at(6 * 1440 - 1), false);
            assertThat(Answers.rows(begun, sql)).containsExactly("5");
            assertThat(ask(sql)).as("of the newest, without what was too old").containsExactly("3");
        }

        writer.tidy(Keep.STANDARD, ToyLog.at(6 * 1440), false);
        assertThat(writer.manifest().superseded()).isEmpty();
        assertThat(Set.copyOf(files())).isEqualTo(named(writer.manifest()));
    }

    private List<Path> files() throws IOException {
        try (Stream<Path> files = Files.list(directory().root().resolve("readings"))) {
            return files.toList();
        }
    }

    private Set<Path> named(Manifest manifest) {
        return manifest.of(Table.READINGS).map(directory()::path).collect(Collectors.toSet());
    }

    @Test
    void onAFullDisk_whatIsOnlyForReaders_goesOldestFirst_untilThereIsRoom() throws Exception {
        HistoryWriter writer = open();
        ToyLog log = new ToyLog().minute(1, "ice-1", -3);
        add(writer, log.records());
        writer.tidy(Keep.STANDARD, NOW, true);
        List<String> first =
                writer.manifest().superseded().stream().map(Superseded::name).toList();
        log.minute(2, "ice-1", -4);
        add(writer, log.records().subList(1, 2));
        writer.tidy(Keep.STANDARD, NOW.plusSeconds(60), true);

        writer.makeRoom(() ->
                first.stream().noneMatch(name -> Files.exists(directory().root().resolve(name))));

        assertThat(first).isNotEmpty();
        assertThat(writer.manifest().superseded())
                .isNotEmpty()
                .allMatch(file -> file.at().equals(NOW.plusSeconds(60)));
        assertThat(directory().read()).isEqualTo(writer.manifest());
        writer.makeRoom(() -> false);
        assertThat(Set.copyOf(files())).isEqualTo(named(writer.manifest()));
        assertThat(ask("select count(*) from readings")).containsExactly("2");
    }

    @Test
    void whatIsOnlyForReaders_takesAtMostAQuarterOfWhatTheHistoryMay() {
        List<Superseded> all = IntStream.range(0, 4)
                .mapToObj(hour -> new Superseded("packs/" + hour, 10, NOW.minus(Duration.ofHours(24 - hour))))
                .toList();

        assertThat(Superseded.due(all, NOW, 1_000)).as("by age").containsExactly(all.get(0));
        assertThat(Superseded.due(all, NOW, 80)).as("by bytes").containsExactly(all.get(0), all.get(1));
    }

    @Test
    void withoutItsManifest_aHistoryIsRefused_andNothingDeleted() throws Exception {
        add(open(), new ToyLog().minute(1, "ice-1", -3).records());
        Files.delete(directory().root().resolve(HistoryDirectory.MANIFEST));

        assertThatThrownBy(this::open).isInstanceOf(HistoryException.class).hasMessageContaining("no manifest.json");
        try (Stream<Path> files = Files.list(directory().root().resolve("readings"))) {
            assertThat(files).hasSize(1);
        }
    }

    @Test
    void theFooterSaysWhatABatchIsFrom() throws Exception {
        ToyLog log = new ToyLog().minute(1, "ice-1", -3).tick(1).minute(2, "ice-1", -3);
        HistoryWriter writer = open();
        add(writer, log.records());
        StoredFile file = writer.manifest().batches(Table.READINGS).get(0);

        assertThat(file.name()).endsWith("_0.0-2.parquet");
        assertThat(ask("select decode(value) from parquet_kv_metadata('"
                        + directory().path(file) + "') where decode(key) = 'rimecast_offsets'"))
                .containsExactly("sites toy-log 0 0 3");
    }
}
