package dev.rimecast.analytics.replay;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.log.TelemetryLogWriter;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ReplayTest {
    private static final int SITES = 5;
    private static final List<String> FILES =
            List.of(Replay.CYCLES, Replay.ALERTS, Replay.ALERT_HISTORY, Replay.PROOFS, Replay.REJECTS);

    @TempDir
    private Path directory;

    private final List<Reading> readings = new ArrayList<>();
    private Register register = Register.EMPTY;
    private List<EventRow> events = List.of();

    /** Five sites with two machines each; one machine of each site gets a tired condenser, is cut off, or is left in cleaning. */
    @BeforeEach
    void fleet() {
        List<Machine> machines = new ArrayList<>();
        for (int site = 0; site < SITES; site++) {
            for (int i = 0; i < 2; i++) {
                String id = "ice-" + site + i;
                machines.add(Machine.basic(id, "site-" + site, "gw-" + site));
                readings.addAll(renamed(id, story(site, i)));
            }
        }
        register = new Register(machines, List.of());
        readings.sort(Comparator.comparingLong(Reading::timeMillis).thenComparing(Reading::machine));
        Instant visited = Instant.ofEpochMilli(readings.get(readings.size() / 2).timeMillis());
        events = List.of(new EventRow(
                visited, Optional.of("ice-00"), Optional.empty(), EventKind.AIR_FILTER_WASHED, "", "", ""));
    }

    private static List<Reading> story(int site, int i) {
        PlateModel plate = new PlateModel(60, 0.3, true, true, true, 10L * site + i);
        for (int c = 0; c < 160; c++) {
            plate.splitKelvin = i == 0 && c > 60 ? 15 + Math.min(6, 0.1 * (c - 60)) : 15;
            plate.cycles(1);
        }
        if (site % 2 == 0 && i == 1) {
            plate.rest(6 * 3600, Phase.CLEAN);
        }
        return plate.cycles(3).readings;
    }

    private static List<Reading> renamed(String machine, List<Reading> from) {
        return from.stream()
                .map(r -> new Reading(machine, r.channel(), r.timeMillis(), r.value(), r.text()))
                .toList();
    }

    private Path log(String name, List<Reading> inOrder) throws IOException {
        Path file = directory.resolve(name);
        try (TelemetryLogWriter out = new TelemetryLogWriter(file, Arrays.asList(Channel.values()))) {
            for (int i = 0; i < inOrder.size(); ) {
                Reading first = inOrder.get(i);
                List<Reading> row = new ArrayList<>();
                while (i < inOrder.size()
                        && inOrder.get(i).machine().equals(first.machine())
                        && inOrder.get(i).timeMillis() == first.timeMillis()) {
                    row.add(inOrder.get(i++));
                }
                out.write(first.machine(), first.timeMillis(), row);
            }
        }
        return file;
    }

    private Map<String, String> replay(String name, int threads, Path... logs) throws IOException {
        Path out = directory.resolve(name);
        Replay.run(new Replay.Input(List.of(logs), register, events, List.of(), Policy.standard()), out, threads);
        Map<String, String> written = new TreeMap<>();
        for (String file : FILES) {
            written.put(file, Files.readString(out.resolve(file)));
        }
        return written;
    }

    @Test
    void replay_anyNumberOfThreads_writesTheSameBytes() throws IOException {
        Path log = log("fleet.csv.gz", readings);

        Map<String, String> one = replay("one", 1, log);

        assertThat(replay("two", 2, log)).isEqualTo(one);
        assertThat(replay("eight", 8, log)).isEqualTo(one);
        assertThat(one.get(Replay.ALERTS))
                .contains("rising-condensing-temperature")
                .contains("cleaning-too-long");
        // The last cycle of a recording is still held when it ends: a length or a late reading could yet change it.
        assertThat(one.get(Replay.CYCLES)).hasLineCount(1 + SITES * 2 * (163 - 1));
    }

    @Test
    void replay_oneMachineAfterTheOther_decidesAsInOrderOfTime() throws IOException {
        List<Reading> byMachine = new ArrayList<>(readings);
        byMachine.sort(Comparator.comparing(Reading::machine).thenComparingLong(Reading::timeMillis));

        Map<String, String> sorted = replay("sorted", 2, log("by-machine.csv", byMachine));

        assertThat(sorted).isEqualTo(replay("in-order", 2, log("in-order.csv", readings)));
        try (var left = Files.list(directory.resolve("sorted"))) {
            assertThat(left.map(f -> f.getFileName().toString())).containsExactlyInAnyOrderElementsOf(FILES);
        }
    }

    /** A gateway comes back: it sends what it has stored of its two machines, and between that what one of them shows now. */
    @Test
    void replay_storeThatIsSentBesideRowsOfTheMoment_silencesNoMachine() throws IOException {
        List<Reading> ofSite =
                readings.stream().filter(r -> r.machine().startsWith("ice-1")).toList();
        long lost = ofSite.get(ofSite.size() / 2).timeMillis();
        long back = lost + 6 * 3_600_000L;
        List<Reading> stored = ofSite.stream()
                .filter(r -> r.timeMillis() >= lost && r.timeMillis() < back)
                .toList();
        List<Reading> later =
                ofSite.stream().filter(r -> r.timeMillis() >= back).toList();
        List<Reading> ofTheMoment = later.stream()
                .filter(r -> r.machine().equals("ice-10"))
                .limit(stored.size() / 40)
                .toList();
        List<Reading> arrived = new ArrayList<>(
                ofSite.stream().filter(r -> r.timeMillis() < lost).toList());
        for (int i = 0; i < stored.size(); i++) {
            if (i % 40 == 20 && i / 40 < ofTheMoment.size()) {
                arrived.add(ofTheMoment.get(i / 40));
            }
            arrived.add(stored.get(i));
        }
        arrived.addAll(later.stream().filter(r -> !ofTheMoment.contains(r)).toList());

        Map<String, String> written = replay("stored", 2, log("stored.csv", arrived));

        assertThat(written.get(Replay.ALERTS)).contains("gateway-silent").doesNotContain("machine-silent");
    }

    @Test
    void replay_severalFiles_decidesAsOneFile() throws IOException {
        List<Reading> even =
                readings.stream().filter(r -> r.machine().endsWith("0")).toList();
        List<Reading> odd =
                readings.stream().filter(r -> r.machine().endsWith("1")).toList();

        Map<String, String> parts = replay("parts", 2, log("even.csv.zst", even), log("odd.csv", odd));

        assertThat(parts).isEqualTo(replay("whole", 2, log("whole.csv", readings)));
    }

    @Test
    void replay_machineInNoRegister_isRejectedOnceWithItsRows() throws IOException {
        List<Reading> stranger = List.of(
                Reading.number(
                        "ice-99",
                        Channel.EVAPORATOR_TEMPERATURE,
                        readings.get(0).timeMillis(),
                        1),
                Reading.number(
                        "ice-99",
                        Channel.EVAPORATOR_TEMPERATURE,
                        readings.get(0).timeMillis() + 1000,
                        1));

        Path out = directory.resolve("out");
        Replay.Summary summary = Replay.run(
                new Replay.Input(
                        List.of(log("known.csv", readings), log("stranger.csv", stranger)),
                        register,
                        events,
                        List.of(),
                        Policy.standard()),
                out,
                2);

        assertThat(summary.rejects()).isEqualTo(1);
        assertThat(Files.readString(out.resolve(Replay.REJECTS)))
                .contains("ice-99")
                .contains("2 rows");
        assertThat(summary.readings()).isEqualTo(readings.size());
        assertThat(summary.counts().stored()).isEqualTo(readings.size());
    }
}
