package dev.rimecast.simulator.fleet;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.EventsFile;
import dev.rimecast.telemetry.file.RegisterFiles;
import dev.rimecast.telemetry.file.TruthFile;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Register;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.zip.GZIPInputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class FleetFilesTest {
    @TempDir
    Path directory;

    @Test
    void write_ofAPlan_givesFilesThatReadBackAsThePlan() throws IOException {
        FaultPlan curtain = FaultPlan.step(
                        "cube-50", Cause.CURTAIN_MISPLACED, Plans.START.plus(Duration.ofHours(2)), 0.1)
                .mendedAt(Plans.START.plus(Duration.ofHours(5)));
        FleetPlan plan = Plans.oneOfEach(4, Duration.ofHours(8), Duration.ofMinutes(1), curtain);

        long readings = FleetFiles.write(plan, directory);

        Register register = RegisterFiles.read(
                directory.resolve(FleetFiles.MACHINES), Optional.of(directory.resolve(FleetFiles.SITES)));
        assertThat(register.machines()).isEqualTo(plan.register().machines());
        assertThat(register.sites()).isEqualTo(plan.register().sites());
        assertThat(EventsFile.read(directory.resolve(FleetFiles.EVENTS)))
                .extracting(EventRow::kind)
                .containsExactly(EventKind.SITE_ANSWER);
        assertThat(TruthFile.read(directory.resolve(FleetFiles.TRUTH)))
                .hasSize(Model.values().length)
                .filteredOn(row -> row.cause().isPresent())
                .singleElement()
                .satisfies(row -> assertThat(row.onset()).contains(curtain.onset()));
        List<String> lines = telemetry();
        assertThat(lines.get(0)).startsWith("time,machine,evaporator_temperature,condenser_temperature");
        long cells = lines.stream().skip(1).mapToLong(FleetFilesTest::filled).sum();
        assertThat(cells).isEqualTo(readings);
    }

    @Test
    void write_twice_givesTheSameBytes() throws IOException {
        FleetPlan plan = Plans.oneOfEach(4, Duration.ofHours(2), Duration.ofSeconds(10));
        FleetFiles.write(plan, directory.resolve("a"));
        FleetFiles.write(plan, directory.resolve("b"));
        for (String name : List.of(FleetFiles.TELEMETRY, FleetFiles.MACHINES, FleetFiles.TRUTH, FleetFiles.EVENTS)) {
            assertThat(directory.resolve("a").resolve(name))
                    .hasSameBinaryContentAs(directory.resolve("b").resolve(name));
        }
    }

    private List<String> telemetry() throws IOException {
        List<String> lines = new ArrayList<>();
        try (BufferedReader reader = new BufferedReader(new InputStreamReader(
                new GZIPInputStream(Files.newInputStream(directory.resolve(FleetFiles.TELEMETRY))),
                StandardCharsets.UTF_8))) {
            reader.lines().forEach(lines::add);
        }
        return lines;
    }

    private static long filled(String line) {
        String[] cells = line.split(",", -1);
        long filled = 0;
        for (int i = 2; i < cells.length; i++) {
            filled += cells[i].isEmpty() ? 0 : 1;
        }
        return filled;
    }
}
