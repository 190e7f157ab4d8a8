package dev.rimecast.app.backup;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.AlertsStage;
import dev.rimecast.alerts.view.Actions;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.app.faults.ToyFleet;
import dev.rimecast.app.faults.ToyServer;
import dev.rimecast.app.server.Server;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import java.io.DataInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Consumer;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A backup is made while readings flow and put back elsewhere; the gateways send all that they still have. In the end
 * everything is decided as by the server that was never interrupted, and nothing twice.
 */
class BackupIT {
    private static final int MINUTES = 600;
    private static final int BACKUP_AT = 300;

    @TempDir
    Path directory;

    @Test
    void backup_whileReadingsFlow_putBackElsewhere_goesOnAsIfNothingHadBeen() throws Exception {
        Path register = directory.resolve("machines.csv");
        ToyFleet.writeRegister(register);
        Path archive = directory.resolve("backup.zip");
        Path first = directory.resolve("first");
        CompletableFuture<Photo> photo = new CompletableFuture<>();
        try (ToyServer toy = new ToyServer(first, register, ToyFleet.START)) {
            CompletableFuture<Long> backup = new CompletableFuture<>();
            toy.publish(MINUTES, minute -> {
                if (minute == BACKUP_AT) {
                    var unused = backup.completeAsync(() -> {
                        acknowledgeOne(toy.server);
                        photo.complete(photographed(first));
                        return backup(toy.server, archive);
                    });
                }
            });
            assertThat(backup.get(60, TimeUnit.SECONDS)).isPositive();
            toy.awaitDecided();
        }
        Decided uninterrupted = Decided.of(first);
        assertThat(uninterrupted.findings()).hasSizeGreaterThan(20);
        assertThat(uninterrupted.alerts()).hasSizeGreaterThan(10);

        assertThat(rowsOf(archive, "alert"))
                .as("one is in the midst of its life, where none can begin")
                .contains("\tacknowledged\t");
        assertThat(packs(archive))
                .as("every pack that had its receipt when the backup began")
                .allSatisfy((gateway, numbers) -> assertThat(numbers)
                        .containsAll(LongStream.rangeClosed(1, BACKUP_AT / ToyServer.STEP + 1)
                                .boxed()
                                .toList()))
                .hasSize(ToyFleet.SITES.size());

        Path second = directory.resolve("second");
        String done = Restore.of(archive, second);
        assertThat(done).contains("put back into", "topics");
        assertThat(recordsOf(archive, Topics.FINDINGS))
                .as("the backup was made in the middle")
                .isBetween(5L, uninterrupted.findings().size() - 5L);
        try (ToyServer toy = new ToyServer(second, register, lastTick(archive))) {
            Photo put = photo.join();
            assertThat(toy.server.alerts().work().photo(SiteScope.EVERY, put.report(), put.id()))
                    .as("every byte of a photo")
                    .contains(put.jpeg());
            toy.publish(MINUTES, minute -> {});
            toy.awaitDecided();
        }
        Decided goneOn = Decided.of(second);

        assertThat(goneOn.findings())
                .as("each revision of each finding once")
                .doesNotHaveDuplicates()
                .containsExactlyElementsOf(uninterrupted.findings());
        assertThat(goneOn.cycles()).containsExactlyElementsOf(uninterrupted.cycles());
        assertThat(withoutCases(goneOn.alerts())).containsExactlyElementsOf(withoutCases(uninterrupted.alerts()));
        assertThat(goneOn.states())
                .as("state of every machine and site, by the log that was put back and gone on with")
                .isEqualTo(goneOn.byOneThread());
    }

    /** Cases get identifiers by chance; those of the backup keep theirs. */
    private static List<String> withoutCases(List<String> alerts) {
        return alerts.stream()
                .map(line -> line.substring(0, line.lastIndexOf(' ')))
                .toList();
    }

    private static long recordsOf(Path file, String topic) throws IOException {
        AtomicLong count = new AtomicLong();
        forEach(file, topic, stored -> count.incrementAndGet());
        return count.get();
    }

    /** Numbers of the packs in the sites' logs of the backup, by gateway. */
    private static Map<String, Set<Long>> packs(Path file) throws IOException {
        Map<String, Set<Long>> packs = new TreeMap<>();
        forEach(file, Topics.SITES, stored -> {
            byte[] value = stored.value();
            if (value != null && SiteLogCodec.decode(value) instanceof SiteRecord.Pack pack) {
                packs.computeIfAbsent(pack.gateway(), unused -> new TreeSet<>())
                        .add(pack.number()
                                .orElseThrow(() -> new AssertionError(
                                        "a pack without a number, as one has that was laid aside as unclaimed: "
                                                + pack))
                                .seq());
            }
        });
        return packs;
    }

    /** Time as the sites' logs of the backup have it. */
    private static Instant lastTick(Path file) throws IOException {
        Instant[] last = {ToyFleet.START};
        forEach(file, Topics.SITES, stored -> {
            byte[] value = stored.value();
            if (value != null && SiteLogCodec.decode(value) instanceof SiteRecord.Tick tick) {
                last[0] = tick.at().isAfter(last[0]) ? tick.at() : last[0];
            }
        });
        return last[0];
    }

    private static void forEach(Path file, String topic, Consumer<RecordCodec.Stored> sink) throws IOException {
        try (Archive archive = Archive.verified(file)) {
            Manifest.Topic of = archive.manifest().topics().stream()
                    .filter(one -> one.name().equals(topic))
                    .findFirst()
                    .orElseThrow();
            for (int i = 0; i < of.partitions(); i++) {
                try (DataInputStream in = new DataInputStream(archive.open(of.entry(i)))) {
                    for (Optional<RecordCodec.Stored> next = RecordCodec.read(in);
                            next.isPresent();
                            next = RecordCodec.read(in)) {
                        sink.accept(next.get());
                    }
                }
            }
        }
    }

    /** Sees one that nobody has seen, and that stays for hours. It may get worse while it is looked at, so the next one is taken then. */
    private static void acknowledgeOne(Server server) {
        AlertsStage stage = server.alerts();
        await().atMost(Duration.ofSeconds(60))
                .until(() -> stage.views().alerts(AlertFilter.OPEN, 100).stream()
                        .filter(alert -> alert.state() == AlertState.UNACKNOWLEDGED)
                        .map(unseen ->
                                stage.actions().acknowledge(unseen.finding().id(), unseen.version(), "ada", ""))
                        .anyMatch(Actions.Outcome.Done.class::isInstance));
    }

    private record Photo(UUID report, UUID id, byte[] jpeg) {}

    /** A photo of a report of work, both only as rows: an event in the log would come anywhere beside the readings. */
    private static Photo photographed(Path data) {
        byte[] noise = new byte[100_000];
        new Random(31).nextBytes(noise);
        Photo photo = new Photo(UUID.randomUUID(), UUID.randomUUID(), noise);
        Path postgres = data.resolve("postgres");
        try (Connection connection = DriverManager.getConnection(
                "jdbc:postgresql://127.0.0.1:"
                        + Files.readString(postgres.resolve("port")).strip() + "/rimecast",
                "rimecast",
                Files.readString(postgres.resolve("password")).strip())) {
            row(
                    connection,
                    "insert into work_report (id, site, machine, happened, found, found_text, job, note, who,"
                            + " certificate, entered_by, entered_at) values (?, 'bar', 'ice-a', now(), 'nothing-found', '', '',"
                            + " '', '', '', 'ada', now())",
                    photo.report());
            row(
                    connection,
                    "insert into work_photo (id, report, position, width, height, jpeg, sha256, entered_by,"
                            + " entered_at) select ?, ?, 0, 64, 64, j, sha256(j), 'ada', now() from (values (?)) v (j)",
                    photo.id(),
                    photo.report(),
                    noise);
        } catch (IOException | SQLException e) {
            throw new IllegalStateException(e);
        }
        return photo;
    }

    private static void row(Connection connection, String sql, Object... values) throws SQLException {
        try (PreparedStatement insert = connection.prepareStatement(sql)) {
            for (int i = 0; i < values.length; i++) {
                insert.setObject(i + 1, values[i]);
            }
            insert.executeUpdate();
        }
    }

    private static String rowsOf(Path file, String table) throws IOException {
        try (Archive archive = Archive.verified(file)) {
            Manifest.Table of = archive.manifest().tables().stream()
                    .filter(one -> one.name().equals(table))
                    .findFirst()
                    .orElseThrow();
            return new String(archive.open(of.entry()).readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    private static long backup(Server server, Path archive) {
        try {
            return server.backup(archive);
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }
}
