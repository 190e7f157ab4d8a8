package dev.rimecast.app.backup;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.app.faults.Aftermath;
import dev.rimecast.app.faults.ToyFleet;
import dev.rimecast.app.faults.ToyServer;
import dev.rimecast.app.server.Backups;
import dev.rimecast.app.server.Version;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.Topics;
import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Backups of earlier versions, each with what was in it, are opened by this one and gone on with. */
class UpgradeIT {
    private static final int MINUTES = 300;
    private static final int MORE = 120;

    @TempDir
    Path directory;

    static Stream<Path> archives() throws IOException, URISyntaxException {
        Path kept = Path.of(Objects.requireNonNull(UpgradeIT.class.getResource("/golden"), "golden")
                .toURI());
        try (Stream<Path> files = Files.list(kept)) {
            return files.filter(file -> file.toString().endsWith(".zip")).sorted().toList().stream();
        }
    }

    @ParameterizedTest
    @MethodSource("archives")
    void backup_ofAnEarlierVersion_isOpenedWithAllThatWasInIt_andGoneOnWith(Path archive) throws Exception {
        Path register = directory.resolve("machines.csv");
        ToyFleet.writeRegister(register);
        // There already, as a mount point is.
        Path data = Files.createDirectory(directory.resolve("data"));

        Restore.of(archive, data);

        assertThat(inWords(data)).containsExactlyElementsOf(Files.readAllLines(Path.of(archive + ".expected")));
        try (ToyServer toy = new ToyServer(data, register, ToyFleet.START.plusSeconds(60L * MINUTES))) {
            toy.publish(MINUTES + MORE, minute -> {});
            toy.awaitDecided();

            Instant end = ToyFleet.START.plus(Duration.ofDays(1));
            int cycles = toy.server.alerts().views().fleet().stream()
                    .mapToInt(row -> toy.server
                            .alerts()
                            .views()
                            .cycles(row.machine(), ToyFleet.START, end)
                            .size())
                    .sum();
            assertThat(cycles)
                    .as("of four machines, each with one every half an hour")
                    .isEqualTo(countOfCycles(archive) + 4 * MORE / 30);
            assertThat(Aftermath.values(toy.server.kafka(), Topics.FINDINGS, FindingJson::decode).stream()
                            .map(finding -> finding.id() + " " + finding.revision()))
                    .as("each revision once")
                    .doesNotHaveDuplicates();
        }
    }

    private static int countOfCycles(Path archive) throws IOException {
        return (int) Files.readAllLines(Path.of(archive + ".expected")).stream()
                .filter(line -> line.startsWith("cycle "))
                .count();
    }

    /** Everything that must be there again, a line each. */
    private static List<String> inWords(Path data) throws SQLException {
        List<String> lines = new ArrayList<>();
        try (Aftermath store = Aftermath.of(data)) {
            table(store, lines, "alert", "select id, site, machine, condition, state, revision from alert order by id");
            table(
                    store,
                    lines,
                    "audit",
                    "select alert, extract(epoch from at), who, what, why from alert_audit order by id");
            table(
                    store,
                    lines,
                    "case",
                    "select id, site, extract(epoch from opened_at), extract(epoch from closed_at), cause from alert_case order by id");
            table(store, lines, "cycle", "select machine, extract(epoch from freeze_start) from cycle order by 1, 2");
            store.states()
                    .forEach((site, parts) -> parts.forEach((part, bytes) -> lines.add("state " + site + " " + part
                            + " " + java.util.HexFormat.of().formatHex(Sha256.of(bytes)))));
        }
        return lines;
    }

    private static void table(Aftermath store, List<String> lines, String name, String query) throws SQLException {
        store.rows(query).forEach(row -> lines.add(name + " " + String.join(" ", row)));
    }

    /** Writes another one; see DEVELOPERS.md. */
    @Test
    @EnabledIfSystemProperty(named = "golden", matches = ".+")
    void write() throws Exception {
        Path register = directory.resolve("machines.csv");
        ToyFleet.writeRegister(register);
        Path data = directory.resolve("data");
        try (ToyServer toy = new ToyServer(data, register, ToyFleet.START)) {
            toy.publish(MINUTES, minute -> {});
            toy.awaitDecided();
            var alert = toy.server.alerts().views().alerts(AlertFilter.OPEN, 1).get(0);
            toy.server.alerts().actions().acknowledge(alert.finding().id(), alert.version(), "Ada", "seen");
        }
        Path archive = Path.of(System.getProperty("golden")).resolve("golden-" + Version.text() + ".zip");
        Backups.ofStopped(data, archive);
        Files.write(Path.of(archive + ".expected"), inWords(data));
    }
}
