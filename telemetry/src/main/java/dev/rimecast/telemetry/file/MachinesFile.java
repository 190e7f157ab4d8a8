package dev.rimecast.telemetry.file;

import dev.rimecast.telemetry.file.csv.Cells;
import dev.rimecast.telemetry.file.csv.Columns;
import dev.rimecast.telemetry.file.csv.CsvOutput;
import dev.rimecast.telemetry.file.csv.CsvRow;
import dev.rimecast.telemetry.file.csv.CsvTable;
import dev.rimecast.telemetry.file.csv.Decimals;
import dev.rimecast.telemetry.machine.Ids;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.Build;
import dev.rimecast.telemetry.machine.Machine.CareIntervals;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import dev.rimecast.telemetry.machine.Machine.Kind;
import dev.rimecast.telemetry.machine.Machine.Limits;
import dev.rimecast.telemetry.machine.Machine.PlaceLimits;
import dev.rimecast.telemetry.machine.Machine.ProbeAt;
import dev.rimecast.telemetry.machine.Machine.SprayUnit;
import dev.rimecast.telemetry.yaml.Range;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** {@code machines.csv}: the register. */
public final class MachinesFile {
    static final Columns COLUMNS = new Columns(
            List.of("machine", "site", "gateway"),
            List.of(
                    "room",
                    "model_group",
                    "serial",
                    "kind",
                    "condenser_cooling",
                    "rated_kg_per_day",
                    "bin_kg",
                    "refrigerant",
                    "freeze_ends_by",
                    "harvest_ends_by",
                    "fill_ends_by",
                    "evaporator_probe_at",
                    "condensing_limit_c",
                    "pulldown_limit_s",
                    "drain_limit_s",
                    "drain_run_on_s",
                    "drain_kind",
                    "start_delay_s",
                    "ambient_min_c",
                    "ambient_max_c",
                    "water_min_c",
                    "water_max_c",
                    "cleaning_interval_days",
                    "air_filter_interval_days",
                    "water_filter_interval_days",
                    "lamp_interval_days",
                    "installed",
                    "lamp_installed",
                    "warranty_until",
                    "spray_unit"));

    private static final double USUAL_KG_PER_DAY = 50;
    private static final double USUAL_BIN_SHARE = 0.4;
    private static final int USUAL_START_DELAY_SECONDS = 300;

    /** A bin of more than ten tonnes is a slip of the keyboard. */
    private static final Range KILOGRAMS = Range.of(0.1, 10_000);

    private static final Range PLACE_CELSIUS = Range.of(-40, 80);
    private static final int MOST_DAYS = 10_000;

    private final Map<String, Long> lineOfMachine = new HashMap<>();
    private final Map<String, Standing> standingOfGateway = new HashMap<>();

    private record Standing(String site, long line) {}

    private MachinesFile() {}

    /**
     * Reads a register.
     *
     * @throws IOException if the file can't be read at all
     * @throws dev.rimecast.telemetry.file.csv.InputProblems if anything in it is wrong, everything at once
     */
    public static List<Machine> read(Path file) throws IOException {
        return CsvTable.read(file, COLUMNS, new MachinesFile()::machine);
    }

    /**
     * Reads one row that somebody wrote elsewhere than in a file: what is wrong in a file is wrong here, in the same words.
     *
     * @param cells by column; an empty one is absent
     * @throws dev.rimecast.telemetry.file.csv.InputProblems if anything in it is wrong, everything at once
     */
    public static Machine readOne(Map<String, String> cells) {
        return CsvTable.readOne("machines.csv", COLUMNS, cells, new MachinesFile()::machine);
    }

    private Machine machine(CsvRow row) {
        String id = row.id("machine");
        String site = row.id("site");
        String gateway = row.id("gateway");
        if (row.isGood("gateway") && gateway.equals(Ids.NOBODY)) {
            row.problem(
                    "gateway",
                    "'" + gateway + "' can't be a gateway: what comes from senders without a name stands under it");
        }
        checkUnique(row, id);
        checkOneSite(row, gateway, site);
        double rated = row.number("rated_kg_per_day", KILOGRAMS).orElse(USUAL_KG_PER_DAY);
        Machine machine = new Machine(
                id,
                site,
                gateway,
                row.optionalId("room"),
                row.optionalId("model_group"),
                row.text("serial"),
                row.word("kind", Kind.class, MachinesFile::word).orElse(Kind.BATCH),
                row.word("condenser_cooling", Cooling.class, MachinesFile::word).orElse(Cooling.AIR),
                rated,
                row.number("bin_kg", KILOGRAMS).orElse(USUAL_BIN_SHARE * rated),
                row.text("refrigerant"),
                row.word("freeze_ends_by", EndsBy.class, MachinesFile::word),
                row.word("harvest_ends_by", EndsBy.class, MachinesFile::word),
                row.word("fill_ends_by", EndsBy.class, MachinesFile::word),
                row.word("evaporator_probe_at", ProbeAt.class, MachinesFile::word)
                        .orElse(ProbeAt.PLATE),
                limits(row),
                row.word("drain_kind", DrainKind.class, MachinesFile::word).orElse(DrainKind.GRAVITY),
                row.integer("start_delay_s", 0, 86_400).orElse(USUAL_START_DELAY_SECONDS),
                place(row),
                care(row),
                row.date("installed"),
                row.date("lamp_installed"),
                row.date("warranty_until"),
                Build.NOT_SAID);
        return machine.withBuild(new Build(
                row.word("spray_unit", SprayUnit.class, MachinesFile::word),
                row.text("drain_kind").map(said -> machine.drainKind()),
                row.text("condenser_cooling").map(said -> machine.condenserCooling())));
    }

    private void checkUnique(CsvRow row, String id) {
        Long first = row.isGood("machine") ? lineOfMachine.putIfAbsent(id, row.line()) : null;
        if (first != null) {
            row.problem("machine", id + " is here twice, first in line " + first + ": delete one of the lines");
        }
    }

    private void checkOneSite(CsvRow row, String gateway, String site) {
        if (!row.isGood("gateway") || !row.isGood("site")) {
            return;
        }
        Standing first = standingOfGateway.putIfAbsent(gateway, new Standing(site, row.line()));
        if (first != null && !first.site.equals(site)) {
            row.problem(
                    "gateway",
                    gateway + " stands on site " + site + " here (line " + row.line() + ") and on site " + first.site
                            + " in line " + first.line + ": a gateway stands on exactly one site");
        }
    }

    private static Limits limits(CsvRow row) {
        return new Limits(
                row.number("condensing_limit_c", Range.of(30, 100)),
                row.number("pulldown_limit_s", Range.of(30, 86_400)),
                row.number("drain_limit_s", Range.of(0.1, 3600)),
                row.number("drain_run_on_s", Range.of(0, 3600)));
    }

    private static PlaceLimits place(CsvRow row) {
        PlaceLimits usual = PlaceLimits.USUAL;
        double ambientMin = row.number("ambient_min_c", PLACE_CELSIUS).orElse(usual.ambientMinCelsius());
        double ambientMax = row.number("ambient_max_c", PLACE_CELSIUS).orElse(usual.ambientMaxCelsius());
        double waterMin = row.number("water_min_c", PLACE_CELSIUS).orElse(usual.waterMinCelsius());
        double waterMax = row.number("water_max_c", PLACE_CELSIUS).orElse(usual.waterMaxCelsius());
        checkOrder(row, "ambient_max_c", "ambient_min_c", ambientMin, ambientMax);
        checkOrder(row, "water_max_c", "water_min_c", waterMin, waterMax);
        return new PlaceLimits(ambientMin, ambientMax, waterMin, waterMax);
    }

    private static void checkOrder(CsvRow row, String column, String other, double low, double high) {
        if (low >= high) {
            row.problem(
                    column,
                    "must be above " + other + ", which is " + Decimals.shortest(low) + ", found "
                            + Decimals.shortest(high));
        }
    }

    private static CareIntervals care(CsvRow row) {
        return new CareIntervals(
                row.integer("cleaning_interval_days", 1, MOST_DAYS),
                row.integer("air_filter_interval_days", 1, MOST_DAYS),
                row.integer("water_filter_interval_days", 1, MOST_DAYS),
                row.integer("lamp_interval_days", 1, MOST_DAYS));
    }

    /** Writes a register with every column. */
    public static void write(Path file, Collection<Machine> machines) throws IOException {
        try (CsvOutput out = new CsvOutput(file, COLUMNS.all())) {
            for (Machine machine : machines) {
                out.row(cells(machine));
            }
        }
    }

    /** A machine's row, by column, without what is empty: {@link #readOne} makes the same machine of it. */
    public static Map<String, String> rowOf(Machine machine) {
        Map<String, String> row = new LinkedHashMap<>();
        List<String> cells = cells(machine);
        for (int i = 0; i < cells.size(); i++) {
            if (!cells.get(i).isEmpty()) {
                row.put(COLUMNS.all().get(i), cells.get(i));
            }
        }
        return row;
    }

    private static List<String> cells(Machine machine) {
        Limits limits = machine.limits();
        PlaceLimits place = machine.place();
        CareIntervals care = machine.care();
        return List.of(
                machine.id(),
                machine.site(),
                machine.gateway(),
                Cells.of(machine.room()),
                Cells.of(machine.modelGroup()),
                Cells.of(machine.serial()),
                word(machine.kind()),
                said(machine.build().cooling(), machine.condenserCooling(), Cooling.AIR),
                Decimals.shortest(machine.ratedKgPerDay()),
                Decimals.shortest(machine.binKg()),
                Cells.of(machine.refrigerant()),
                Cells.of(machine.freezeEndsBy().map(MachinesFile::word)),
                Cells.of(machine.harvestEndsBy().map(MachinesFile::word)),
                Cells.of(machine.fillEndsBy().map(MachinesFile::word)),
                word(machine.evaporatorProbeAt()),
                Cells.of(limits.condensingCelsius()),
                Cells.of(limits.pullDownSeconds()),
                Cells.of(limits.drainLevelSeconds()),
                Cells.of(limits.drainRunOnSeconds()),
                said(machine.build().drain(), machine.drainKind(), DrainKind.GRAVITY),
                Integer.toString(machine.startDelaySeconds()),
                Decimals.shortest(place.ambientMinCelsius()),
                Decimals.shortest(place.ambientMaxCelsius()),
                Decimals.shortest(place.waterMinCelsius()),
                Decimals.shortest(place.waterMaxCelsius()),
                Cells.of(care.cleaningDays()),
                Cells.of(care.airFilterDays()),
                Cells.of(care.waterFilterDays()),
                Cells.of(care.lampDays()),
                Cells.of(machine.installed()),
                Cells.of(machine.lampInstalled()),
                Cells.of(machine.warrantyUntil()),
                Cells.of(machine.build().sprayUnit().map(MachinesFile::word)));
    }

    /** A default that nobody has said stays unsaid. */
    private static String said(Optional<? extends Enum<?>> said, Enum<?> value, Enum<?> usual) {
        return said.isEmpty() && value == usual ? "" : word(value);
    }

    private static String word(Enum<?> constant) {
        return constant.name().toLowerCase(Locale.ROOT);
    }
}
