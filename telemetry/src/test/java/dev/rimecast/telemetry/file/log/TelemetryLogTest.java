package dev.rimecast.telemetry.file.log;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import dev.rimecast.telemetry.file.csv.InputProblems;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class TelemetryLogTest {
    private static final long START = Instant.parse("2026-05-04T00:00:12.010Z").toEpochMilli();

    @TempDir
    Path directory;

    private final List<RejectedLine> rejects = new ArrayList<>();

    private List<LogRow> read(Path file) throws IOException {
        List<LogRow> rows = new ArrayList<>();
        try (TelemetryLogReader reader = TelemetryLogReader.open(file, rejects::add)) {
            for (Optional<LogRow> row = reader.next(); row.isPresent(); row = reader.next()) {
                rows.add(row.get());
            }
        }
        return rows;
    }

    private Path file(String text) throws IOException {
        return Files.writeString(directory.resolve("log.csv"), text);
    }

    @Test
    void next_exampleOfTheContract_givesItsReadings() throws IOException {
        Path file = file("""
                time,machine,evaporator_temperature,condenser_temperature,phase,freeze_time
                2026-05-04T00:00:12.010Z,ice-0007,-6.4,41.8,freeze,
                2026-05-04T00:00:20Z,ice-0007,,,,1285
                """);

        List<LogRow> rows = read(file);

        assertThat(rows)
                .containsExactly(
                        new LogRow(
                                2,
                                "ice-0007",
                                START,
                                List.of(
                                        Reading.number("ice-0007", Channel.EVAPORATOR_TEMPERATURE, START, -6.4),
                                        Reading.number("ice-0007", Channel.CONDENSER_TEMPERATURE, START, 41.8),
                                        Reading.phase("ice-0007", START, Phase.FREEZE))),
                        new LogRow(
                                3,
                                "ice-0007",
                                START + 7_990,
                                List.of(Reading.number("ice-0007", Channel.FREEZE_TIME, START + 7_990, 1285))));
        assertThat(rejects).isEmpty();
    }

    @Test
    void next_badCellsAndLines_areRejectedAndTheRestGoesOn() throws IOException {
        Path file = file("""
                bin_full,machine,time,phase,fill_time,controller_status,ambient_temperature
                1,ice-1,2026-05-04T00:00:12.010Z,frozen,-1,"a,b",warm
                2,ice-1,2026-05-04T00:00:12.010Z,,,,21
                1,ice-1,yesterday,,,,21
                1,Ice 1,2026-05-04T00:00:12.010Z,,,,21
                1,ice-1,2026-05-04T00:00:12.010Z
                1,ice-1,2026-05-04T00:00:12.010Z,,,a"b,21
                0,ice-2,2026-05-04T00:00:12.010Z,,,,21
                """);

        List<LogRow> rows = read(file);

        assertThat(rows).extracting(LogRow::line).containsExactly(2L, 3L, 8L);
        assertThat(rows.get(0).readings())
                .containsExactly(
                        Reading.flag("ice-1", Channel.BIN_FULL, START, true),
                        Reading.text("ice-1", Channel.CONTROLLER_STATUS, START, "a,b"));
        assertThat(rows.get(2).readings())
                .containsExactly(
                        Reading.flag("ice-2", Channel.BIN_FULL, START, false),
                        Reading.number("ice-2", Channel.AMBIENT_TEMPERATURE, START, 21));
        assertThat(rejects)
                .extracting(reject -> reject.line() + " " + reject.column() + ": " + reject.reason())
                .containsExactly(
                        "2 phase: must be one of wait, fill, freeze, harvest, idle, clean, stopped, reduced, off, found"
                                + " 'frozen'",
                        "2 fill_time: must be a number of at least 0, found '-1'",
                        "2 ambient_temperature: must be a number, found 'warm'",
                        "3 bin_full: must be 1 or 0, found '2'",
                        "4 : time must be ISO 8601 with offset, found 'yesterday'",
                        "5 : machine must be an identifier, found 'Ice 1'",
                        "6 : has 3 cells where the header has 7",
                        "7 : a quote stands inside a cell that does not begin with one");
    }

    @Test
    void next_bytesThatAreNotUtf8_rejectTheCell() throws IOException {
        Path file = directory.resolve("log.csv");
        Files.write(
                file,
                "time,machine,controller_status\n2026-05-04T00:00:12.010Z,ice-1,caf\u00e9\n"
                        .getBytes(StandardCharsets.ISO_8859_1));

        assertThat(read(file))
                .singleElement()
                .satisfies(row -> assertThat(row.readings()).isEmpty());
        assertThat(rejects).extracting(RejectedLine::column).containsExactly("controller_status");
    }

    @Test
    void open_unknownColumn_isRefusedByName() throws IOException {
        Path file = file("time,machine,evaporator_temp\n");

        assertThatThrownBy(() -> read(file))
                .isInstanceOf(InputProblems.class)
                .hasMessageContaining("log.csv:1: evaporator_temp: is not a known column: ");
    }

    @Test
    void open_withoutTimeOrEmpty_isRefused() throws IOException {
        Path noTime = file("machine,phase\n");
        Path empty = Files.createFile(directory.resolve("empty.csv"));

        assertThatThrownBy(() -> read(noTime)).hasMessageContaining("time: is missing");
        assertThatThrownBy(() -> read(empty)).hasMessageContaining("empty.csv: is empty: a telemetry log starts with");
    }

    @ParameterizedTest
    @ValueSource(strings = {"log.csv", "log.csv.gz", "log.csv.zst"})
    void write_everyChannel_isReadBackTheSame(String name) throws IOException {
        Path file = directory.resolve(name);
        List<LogRow> rows = new ArrayList<>();
        for (int i = 0; i < 500; i++) {
            rows.add(row(i));
        }
        try (TelemetryLogWriter writer = new TelemetryLogWriter(file, List.of(Channel.values()))) {
            for (LogRow row : rows) {
                writer.write(row.machine(), row.timeMillis(), row.readings());
            }
        }

        assertThat(read(file)).isEqualTo(rows);
        assertThat(rejects).isEmpty();
    }

    private static LogRow row(int i) {
        String machine = "ice-" + i % 7;
        long time = START + 10_007L * i;
        List<Reading> readings = new ArrayList<>();
        for (Channel channel : Channel.values()) {
            if (i % (channel.ordinal() + 1) == 0) {
                readings.add(
                        switch (channel.kind()) {
                            case NUMBER -> Reading.number(machine, channel, time, -i / 7.0);
                            case DURATION, COUNTER -> Reading.number(machine, channel, time, i * 0.1);
                            case FLAG -> Reading.flag(machine, channel, time, i % 4 == 0);
                            case PHASE -> Reading.phase(machine, time, Phase.ofOrdinal(i % Phase.values().length));
                            case TEXT -> Reading.text(machine, channel, time, "code \"" + i + "\",\né");
                        });
            }
        }
        return new LogRow(lineOf(i), machine, time, readings);
    }

    /** The text of every seventh row holds a line break. */
    private static long lineOf(int i) {
        int period = Channel.CONTROLLER_STATUS.ordinal() + 1;
        return 2 + i + (i + period - 1) / period;
    }

    @ParameterizedTest
    @ValueSource(strings = {"log.csv.gz", "log.csv.zst"})
    void next_compressedDataThatEndsEarly_saysWhere(String name) throws IOException {
        Path whole = directory.resolve(name);
        try (TelemetryLogWriter writer = new TelemetryLogWriter(whole, List.of(Channel.values()))) {
            for (int i = 0; i < 20_000; i++) {
                writer.write("ice-1", START + i, row(i).readings());
            }
        }
        byte[] bytes = Files.readAllBytes(whole);
        Path half = directory.resolve("half-" + name);
        Files.write(half, Arrays.copyOf(bytes, bytes.length / 2));

        InputProblems thrown = catchThrowableOfType(InputProblems.class, () -> read(half));

        assertThat(thrown).hasMessageContaining("half-" + name + ":").hasMessageContaining("copy the file again");
        assertThat(thrown.problems().get(0).line()).isGreaterThan(1000);
    }

    @Test
    void write_channelWithoutColumn_isRefused() throws IOException {
        try (TelemetryLogWriter writer = new TelemetryLogWriter(directory.resolve("log.csv"), List.of(Channel.PHASE))) {
            Reading reading = Reading.number("ice-1", Channel.ICE_MASS, START, 1);

            assertThatThrownBy(() -> writer.write("ice-1", START, List.of(reading)))
                    .hasMessage("this log has no column ice_mass");
        }
    }
}
