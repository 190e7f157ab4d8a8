package dev.rimecast.telemetry.file.result;

import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.file.csv.Cells;
import dev.rimecast.telemetry.file.csv.Columns;
import dev.rimecast.telemetry.file.csv.CsvOutput;
import dev.rimecast.telemetry.file.csv.CsvRow;
import dev.rimecast.telemetry.file.csv.CsvTable;
import dev.rimecast.telemetry.file.csv.IsoTime;
import dev.rimecast.telemetry.yaml.Range;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;

/** {@code cycles.csv}: a row for each freeze and its harvest, by start and machine. */
public final class CyclesFile {
    private static final List<String> HEADER = List.of(
            "machine",
            "freeze_start",
            "pull_down_s",
            "freeze_s",
            "harvest_s",
            "condensing_peak_c",
            "condensing_mean_c",
            "evaporator_end_c",
            "ambient_c",
            "ambient_source",
            "water_c",
            "water_source",
            "drain_runs",
            "drain_level_max_s",
            "complete");

    private static final List<String> NEEDED = List.of("machine", "freeze_start");
    private static final Columns COLUMNS = new Columns(
            NEEDED, HEADER.stream().filter(name -> !NEEDED.contains(name)).toList());

    private static final Comparator<Cycle> ORDER =
            Comparator.comparing(Cycle::freezeStart).thenComparing(Cycle::machine);

    private CyclesFile() {}

    /** Names of the columns, in order. */
    public static List<String> columns() {
        return HEADER;
    }

    /** Writes the cycles, whatever order they come in. */
    public static void write(Path file, Collection<Cycle> cycles) throws IOException {
        List<Cycle> sorted = cycles.stream().sorted(ORDER).toList();
        try (CsvOutput out = new CsvOutput(file, HEADER)) {
            for (Cycle cycle : sorted) {
                out.row(cells(cycle));
            }
        }
    }

    /**
     * Reads what a score needs of each cycle, in the order of the file.
     *
     * @throws IOException if the file can't be read at all
     * @throws dev.rimecast.telemetry.file.csv.InputProblems if anything in it is wrong, everything at once
     */
    public static List<CycleRow> read(Path file) throws IOException {
        return CsvTable.read(file, COLUMNS, CyclesFile::cycle);
    }

    private static CycleRow cycle(CsvRow row) {
        row.required("freeze_start");
        return new CycleRow(
                row.id("machine"),
                row.instant("freeze_start").orElse(Instant.EPOCH),
                row.number("freeze_s", Range.ANY),
                row.number("harvest_s", Range.ANY),
                row.text("complete").orElse("0").equals("1"));
    }

    private static List<String> cells(Cycle cycle) {
        return List.of(
                cycle.machine(),
                IsoTime.format(cycle.freezeStart()),
                Cells.fixed(cycle.pullDownSeconds(), Rounding.SECONDS),
                Cells.fixed(cycle.freezeSeconds(), Rounding.SECONDS),
                Cells.fixed(cycle.harvestSeconds(), Rounding.SECONDS),
                Cells.fixed(cycle.condensingPeakCelsius(), Rounding.CELSIUS),
                Cells.fixed(cycle.condensingMeanCelsius(), Rounding.CELSIUS),
                Cells.fixed(cycle.evaporatorEndCelsius(), Rounding.CELSIUS),
                Cells.fixed(cycle.ambientCelsius(), Rounding.CELSIUS),
                cycle.ambientSource(),
                Cells.fixed(cycle.waterCelsius(), Rounding.CELSIUS),
                cycle.waterSource(),
                Cells.of(cycle.drainRuns()),
                Cells.fixed(cycle.drainLevelMaxSeconds(), Rounding.SECONDS),
                Cells.flag(cycle.complete()));
    }
}
