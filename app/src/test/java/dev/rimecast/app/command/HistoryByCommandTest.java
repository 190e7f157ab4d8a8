package dev.rimecast.app.command;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.history.store.StoredFile.Partition;
import dev.rimecast.history.table.Taken;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

/** A day and a half of a machine, of which the firm has changed a number and then one more, as an analyst asks it. */
class HistoryByCommandTest {
    private static final Instant START = Instant.parse("2026-03-01T00:00:00Z");
    private static final int MINUTES = 36 * 60;
    private static final int FREEZE = 20;
    private static final int CYCLE = 24;

    @TempDir
    static Path root;

    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();

    private static Instant at(int minute) {
        return START.plus(Duration.ofMinutes(minute));
    }

    @BeforeAll
    static void write() {
        List<Taken> records = new ArrayList<>();
        add(
                records,
                0,
                new SiteRecord.PolicyActivated(
                        START, "standard-1", Policy.standard().yaml()));
        add(records, 0, new SiteRecord.Registered(START, Machine.basic("ice-1", "harbour", "gw-1")));
        for (int minute = 0; minute < MINUTES; minute++) {
            if (minute == 300) {
                policy(records, minute, "firm-2", "change: {false_alarms_per_machine_year: 0.2}");
            }
            if (minute == 900) {
                policy(
                        records,
                        minute,
                        "firm-3",
                        "change: {false_alarms_per_machine_year: 0.3}, limits: {condensing_celsius: 61}");
                policy(records, minute, "other", "no_such_section: {number: 1}");
            }
            int of = minute % CYCLE;
            long millis = at(minute).toEpochMilli();
            boolean isHot = minute >= 1500 && minute < 1530;
            add(
                    records,
                    minute,
                    new SiteRecord.Pack(
                            "gw-1",
                            Optional.empty(),
                            at(minute),
                            List.of(
                                    Reading.number(
                                            "ice-1",
                                            Channel.EVAPORATOR_TEMPERATURE,
                                            millis,
                                            of < FREEZE ? 15 - 1.6 * of : 10),
                                    Reading.number("ice-1", Channel.CONDENSER_TEMPERATURE, millis, isHot ? 63 : 41.25),
                                    Reading.phase("ice-1", millis, of < FREEZE ? Phase.FREEZE : Phase.HARVEST)),
                            0));
            add(records, minute, new SiteRecord.Tick(at(minute)));
        }
        HistoryDirectory directory = new HistoryDirectory(root.resolve("history"));
        HistoryWriter.open(directory, new Duck.Limits(128, 1, root.resolve("spill")), new Views(directory)::script)
                .add(records, Map.of(new Partition(Topics.SITES, "toy-log", 0), (long) records.size()), List.of());
    }

    private static void policy(List<Taken> records, int minute, String version, String numbers) {
        add(
                records,
                minute,
                new SiteRecord.PolicyActivated(
                        at(minute), version, "version: " + version + "\nall: {" + numbers + "}\n"));
    }

    private static void add(List<Taken> records, int minute, SiteRecord record) {
        records.add(new Taken(
                Topics.SITES,
                "toy-log",
                0,
                records.size(),
                at(minute).toEpochMilli(),
                record instanceof SiteRecord.Tick ? "" : "harbour",
                SiteLogCodec.encode(record)));
    }

    private int run(String... arguments) {
        List<String> all = new ArrayList<>(List.of(arguments));
        all.addAll(List.of("--history", root.resolve("history").toString()));
        CommandLine line = RootCommand.commandLine();
        line.setOut(new PrintWriter(out));
        line.setErr(new PrintWriter(err));
        return line.execute(all.toArray(String[]::new));
    }

    private String report(Path to) throws IOException {
        assertThat(Files.readString(to.resolve("report.txt"))).isSubstringOf(out.toString());
        return Files.readString(to.resolve("report.txt"));
    }

    /** The policy as it is has the firm's numbers, and so has what is written for it to put into force. */
    @Test
    void tune_beginsAtWhatIsInForce_fromCycles() throws IOException {
        Path to = root.resolve("tuned");

        int code = run("tune", "--number", "expectation.usable_cycles=10,50", "--out", to.toString());

        assertThat(code).as(err.toString()).isEqualTo(ExitCode.OK);
        assertThat(report(to))
                .startsWith(
                        "The policy as it is: firm-3 (in force at the end of the history, since 2026-03-01T15:00:00Z).")
                .contains("as it is", "usable_cycles 10", "usable_cycles 50", "Proposed: nothing", "from the cycles");
        assertThat(err.toString()).containsPattern("2 other policies from [5-9]\\d cycles");
        Policy written = Policy.parse(Files.readString(to.resolve("policy.yaml")));
        assertThat(written.version()).isEqualTo("firm-3");
        assertThat(written.yaml()).contains("0.3", "61");
    }

    @Test
    void tune_ofANumberOfReadings_goesThroughThem_andAPolicyThatIsNamedIsWhereItBegins() throws IOException {
        Path own = root.resolve("own.yaml");
        Files.writeString(own, "version: own\nall: {limits: {condensing_celsius: 64}}\n");
        Path to = root.resolve("tuned-own");

        int code = run(
                "tune", "--policy", own.toString(), "--number", "limits.condensing_celsius=62", "--out", to.toString());

        assertThat(code).as(err.toString()).isEqualTo(ExitCode.OK);
        assertThat(report(to))
                .startsWith("The policy as it is: own (own.yaml).")
                .contains("condensing_celsius 62")
                .doesNotContain("from the cycles");
        assertThat(err.toString()).doesNotContain("other policies from");
        assertThat(Files.readString(to.resolve("policy.yaml"))).contains("version: own", "64");
    }

    /** Live has said nothing of it, and should have: 63 °C is above the firm's 61. */
    @Test
    void backtest_saysThatLiveWasOtherwise() {
        int code = run("backtest");

        assertThat(code).as(err.toString()).isEqualTo(ExitCode.OK);
        assertThat(out.toString())
                .startsWith("4,3")
                .contains("Not what was raised live: 0 revisions are the same, 0 only live", "ask again");
    }

    @Test
    void export_writesParquetAndCsv() throws IOException {
        Path parquet = root.resolve("readings.parquet");

        assertThat(run("export", "readings", parquet.toString(), "--from", at(600).toString()))
                .as(err.toString())
                .isEqualTo(ExitCode.OK);

        assertThat(out.toString()).contains(String.format("%,d rows of readings in ", MINUTES - 600));
        assertThat(Files.readAllBytes(parquet))
                .startsWith("PAR1".getBytes(StandardCharsets.US_ASCII))
                .endsWith("PAR1".getBytes(StandardCharsets.US_ASCII));
        out.getBuffer().setLength(0);
        assertThat(run(
                        "query",
                        "--csv",
                        "select count(*) as n, min(time) as a, max(condenser_temperature) as hottest from '" + parquet
                                + "'"))
                .isEqualTo(ExitCode.OK);
        assertThat(out.toString()).contains("1560,2026-03-01T10:00:00.000Z,63");
    }
}
