package dev.rimecast.telemetry.file;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import dev.rimecast.telemetry.file.csv.InputProblem;
import dev.rimecast.telemetry.file.csv.InputProblems;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class RegisterFilesTest {
    @TempDir
    Path directory;

    private Path file(String name, String text) throws IOException {
        return Files.writeString(directory.resolve(name), text);
    }

    private List<String> problemsOf(Path machines, Optional<Path> sites) {
        InputProblems problems = catchThrowableOfType(InputProblems.class, () -> RegisterFiles.read(machines, sites));
        assertThat(problems).as("problems of the register").isNotNull();
        return problems.problems().stream()
                .map(InputProblem::toString)
                .map(text -> text.substring(directory.toString().length() + 1))
                .toList();
    }

    @Test
    void read_requiredColumnsOnly_givesTheContractsDefaults() throws IOException {
        Path machines = file("machines.csv", "gateway,machine,site\ngw-1,ice-0007,harbour\n");

        Register register = RegisterFiles.read(machines, Optional.empty());

        assertThat(register.machines()).containsExactly(Machine.basic("ice-0007", "harbour", "gw-1"));
        assertThat(register.site("harbour")).contains(Site.basic("harbour"));
    }

    @Test
    void read_ratingWithoutBin_givesFourTenthsOfIt() throws IOException {
        Path machines = file("machines.csv", "machine,site,gateway,rated_kg_per_day\nice-1,s,g,120\n");

        assertThat(MachinesFile.read(machines)).extracting(Machine::binKg).containsExactly(48.0);
    }

    /** A row by itself and the same row of a file: the same machine, and the same words where it is wrong. */
    @Test
    void readOne_saysWhatAFileSays() throws IOException {
        Map<String, String> row = new LinkedHashMap<>();
        row.put("machine", "ice-1");
        row.put("site", "Harbour");
        row.put("gateway", "unknown");
        row.put("kind", "batsh");
        row.put("rated_kg_per_day", "-4");
        row.put("ambient_min_c", "50");
        row.put("serial", "");
        Path machines = file("machines.csv", String.join(",", row.keySet()) + '\n' + String.join(",", row.values()));
        List<String> ofTheFile = problemsOf(machines, Optional.empty());
        InputProblems problems = catchThrowableOfType(InputProblems.class, () -> MachinesFile.readOne(row));
        assertThat(problems.problems())
                .hasSize(5)
                .extracting(problem -> "machines.csv:2: " + problem.column() + ": " + problem.what())
                .containsExactlyElementsOf(ofTheFile);

        InputProblems unknown = catchThrowableOfType(
                InputProblems.class, () -> MachinesFile.readOne(Map.of("machine", "ice-1", "sites", "harbour")));
        assertThat(unknown).hasMessageContaining("did you mean 'site'?").hasMessageContaining("gateway: is missing");

        Map<String, String> good = Map.of("machine", "ice-1", "site", "s", "gateway", "g", "serial", "A,1");
        Machine machine = MachinesFile.readOne(good);
        assertThat(machine.serial()).contains("A,1");
        assertThat(MachinesFile.readOne(MachinesFile.rowOf(machine))).isEqualTo(machine);
    }

    @Test
    void read_everyColumn_givesItsValue() throws IOException {
        Path machines = file("machines.csv", """
                machine,site,gateway,room,model_group,serial,kind,condenser_cooling,rated_kg_per_day,bin_kg,refrigerant,\
                freeze_ends_by,harvest_ends_by,fill_ends_by,evaporator_probe_at,condensing_limit_c,pulldown_limit_s,\
                drain_limit_s,drain_run_on_s,drain_kind,start_delay_s,ambient_min_c,ambient_max_c,water_min_c,water_max_c,\
                cleaning_interval_days,air_filter_interval_days,water_filter_interval_days,lamp_interval_days,installed,\
                lamp_installed,warranty_until,spray_unit
                ice-1,s-1,g-1,bar,g80,"A,1",continuous,water,80,30,R290,temperature,time,level,outlet,62,800,5,2,pump,120,\
                5,38,4,30,90,30,180,365,2024-03-01,2025-03-01,2027-03-01,bar
                """);

        Machine machine = MachinesFile.read(machines).get(0);

        assertThat(machine)
                .isEqualTo(new Machine(
                        "ice-1",
                        "s-1",
                        "g-1",
                        Optional.of("bar"),
                        Optional.of("g80"),
                        Optional.of("A,1"),
                        Machine.Kind.CONTINUOUS,
                        Machine.Cooling.WATER,
                        80,
                        30,
                        Optional.of("R290"),
                        Optional.of(Machine.EndsBy.TEMPERATURE),
                        Optional.of(Machine.EndsBy.TIME),
                        Optional.of(Machine.EndsBy.LEVEL),
                        Machine.ProbeAt.OUTLET,
                        new Machine.Limits(
                                OptionalDouble.of(62),
                                OptionalDouble.of(800),
                                OptionalDouble.of(5),
                                OptionalDouble.of(2)),
                        Machine.DrainKind.PUMP,
                        120,
                        new Machine.PlaceLimits(5, 38, 4, 30),
                        new Machine.CareIntervals(
                                OptionalInt.of(90), OptionalInt.of(30), OptionalInt.of(180), OptionalInt.of(365)),
                        Optional.of(LocalDate.of(2024, 3, 1)),
                        Optional.of(LocalDate.of(2025, 3, 1)),
                        Optional.of(LocalDate.of(2027, 3, 1)),
                        new Machine.Build(
                                Optional.of(Machine.SprayUnit.BAR),
                                Optional.of(Machine.DrainKind.PUMP),
                                Optional.of(Machine.Cooling.WATER))));
    }

    /** A default that detection needs is nothing that the register has said. */
    @Test
    void read_buildLeftOut_isNotSaidAndStaysSo() throws IOException {
        Path machines = file("machines.csv", "machine,site,gateway,drain_kind\nice-1,s,g,\nice-2,s,g,gravity\n");

        List<Machine> read = MachinesFile.read(machines);

        assertThat(read).extracting(Machine::drainKind).containsOnly(Machine.DrainKind.GRAVITY);
        assertThat(read.get(0).build()).isEqualTo(Machine.Build.NOT_SAID);
        assertThat(read.get(1).build().drain()).contains(Machine.DrainKind.GRAVITY);
        Path copy = directory.resolve("copy.csv");
        MachinesFile.write(copy, read);
        assertThat(MachinesFile.read(copy)).isEqualTo(read);
    }

    @Test
    void write_machines_areReadBackTheSame() throws IOException {
        Path machines = file(
                "machines.csv",
                "machine,site,gateway,serial,rated_kg_per_day,drain_limit_s,installed\n"
                        + "ice-1,s,g,\"a \"\"b\"\"\nc\",47.3,5.5,2024-02-29\nice-2,s,g,,,,\n");
        List<Machine> read = MachinesFile.read(machines);

        Path copy = directory.resolve("copy.csv");
        MachinesFile.write(copy, read);

        assertThat(MachinesFile.read(copy)).isEqualTo(read);
    }

    /** Under that name stands what came from senders without one. */
    @Test
    void read_gatewayWithNobodysName_isRefused() throws IOException {
        Path machines = file("machines.csv", "machine,site,gateway\nice-1,s-1,unknown\n");
        assertThat(problemsOf(machines, Optional.empty()))
                .containsExactly(
                        "machines.csv:2: gateway: 'unknown' can't be a gateway: what comes from senders without a"
                                + " name stands under it");
    }

    @Test
    void read_manyFaults_reportsAllWithFileLineAndColumn() throws IOException {
        Path machines = file("machines.csv", """
                machine,site,gateway,kind,rated_kg_per_day,drain_kind,start_delay_s,ambient_min_c,ambient_max_c,installed
                ice-1,s-1,g-1,batch,50,gravity,,,,
                Ice 2,s-1,g-1,bach,-3,pomp,1.5,30,20,2024-02-30
                ice-1,s-1,g-1,,,,,,,
                ,s-1,g-1,,,,,,,
                ice-4,s-2,g-1,,,,,,,
                ice-5,s-1
                """);
        Path sites = file("sites.csv", "site,time_zone,open,closed_days\ns-1,Mars/North,7 am,sunday;funday\n");

        assertThat(problemsOf(machines, Optional.of(sites)))
                .containsExactly(
                        "machines.csv:3: machine: must be an identifier of a-z, 0-9, dot, underscore and dash, at most 63"
                                + " long, found 'Ice 2'",
                        "machines.csv:3: rated_kg_per_day: must be from 0.1 to 10000, found '-3'",
                        "machines.csv:3: kind: must be one of batch, continuous, found 'bach': did you mean 'batch'?",
                        "machines.csv:3: drain_kind: must be one of gravity, pump, found 'pomp': did you mean 'pump'?",
                        "machines.csv:3: start_delay_s: must be a whole number from 0 to 86400, found '1.5'",
                        "machines.csv:3: ambient_max_c: must be above ambient_min_c, which is 30, found 20",
                        "machines.csv:3: installed: must be a date such as 2026-05-04, found '2024-02-30'",
                        "machines.csv:4: machine: ice-1 is here twice, first in line 2: delete one of the lines",
                        "machines.csv:5: machine: must not be empty",
                        "machines.csv:6: gateway: g-1 stands on site s-2 here (line 6) and on site s-1 in line 2:"
                                + " a gateway stands on exactly one site",
                        "machines.csv:7: has 2 cells where the header has 10: a cell that contains a comma must stand in"
                                + " quotes",
                        "sites.csv:2: time_zone: must be a zone such as Europe/London, found 'Mars/North'",
                        "sites.csv:2: open: must be a time of day such as 07:30, found '7 am'",
                        "sites.csv:2: closed_days: must be days such as sunday;monday, found 'funday'");
    }

    @Test
    void read_headerThatIsWrong_namesTheColumns() throws IOException {
        Path machines = file("machines.csv", "machine,sit,gateway,gateway\n");

        assertThat(problemsOf(machines, Optional.empty()))
                .containsExactly(
                        "machines.csv:1: sit: is not a known column: did you mean 'site'?",
                        "machines.csv:1: gateway: is here twice: delete one of the columns",
                        "machines.csv:1: site: is missing: the header must have this column");
    }

    @Test
    void read_emptyOrForeignFile_saysWhatItNeeds() throws IOException {
        Path empty = file("machines.csv", "");
        Path latin = directory.resolve("latin.csv");
        Files.write(latin, "machine,site,gateway,room\nice-1,s,g,caf\u00e9\n".getBytes(StandardCharsets.ISO_8859_1));

        assertThat(problemsOf(empty, Optional.empty()))
                .containsExactly("machines.csv: is empty: it needs a header with the columns machine,site,gateway");
        assertThat(problemsOf(latin, Optional.empty()))
                .singleElement()
                .asString()
                .contains("latin.csv: is not UTF-8");
    }

    @Test
    void write_sites_areReadBackTheSame() throws IOException {
        Site site = new Site(
                "s-1",
                "The Anchor, bar",
                ZoneId.of("Europe/London"),
                Optional.of(LocalTime.of(11, 0)),
                Optional.of(LocalTime.of(23, 30)),
                Set.of(DayOfWeek.MONDAY, DayOfWeek.SUNDAY),
                Optional.of("bar@example.org"),
                Optional.of("en-GB"),
                OptionalDouble.of(42.5),
                OptionalDouble.of(4));
        Path sites = directory.resolve("sites.csv");

        SitesFile.write(sites, List.of(site, Site.basic("s-2")));

        assertThat(SitesFile.read(sites)).containsExactly(site, Site.basic("s-2"));
        assertThat(Files.readString(sites)).contains("\"The Anchor, bar\"").contains(",monday;sunday,");
    }
}
