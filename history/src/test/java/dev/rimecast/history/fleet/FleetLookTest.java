package dev.rimecast.history.fleet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.duck.Rows;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.fleet.FleetReport.Change;
import dev.rimecast.history.fleet.FleetReport.GroupDiffers;
import dev.rimecast.history.fleet.FleetReport.SensorChange;
import dev.rimecast.history.fleet.FleetReport.Unfit;
import dev.rimecast.history.table.RowSink;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Sixty days of a made fleet in which it is known what is off. */
class FleetLookTest {
    private static final Instant FROM = Instant.parse("2026-03-01T00:00:00Z");
    private static final int DAYS = 60;
    private static final int CYCLES_A_DAY = 8;
    private static final int MACHINES = 24;

    @TempDir
    Path spill;

    private Duck duck;

    @BeforeEach
    void open() {
        duck = Duck.open(new Duck.Limits(256, 1, spill));
        StringBuilder columns = new StringBuilder(
                "machine varchar, freeze_start timestamp, complete boolean, ambient_c double,"
                        + " ambient_source varchar, water_source varchar, condensing_peak_c double, evaporator_end_c double");
        for (Feature feature : Feature.values()) {
            for (String what : new String[] {"measured", "expected", "sigma"}) {
                columns.append(", ")
                        .append(feature.code().replace('-', '_'))
                        .append('_')
                        .append(what)
                        .append(" double");
            }
        }
        duck.run("create table cycles (" + columns + ")");
        duck.run("create table alerts (machine varchar, condition varchar, raised_at timestamp, cleared_at timestamp)");
        duck.run("create table records (record blob, kind varchar, arrived_at timestamp, log_offset bigint)");
    }

    @AfterEach
    void close() {
        duck.close();
    }

    /** Machines 0 to 11 are of one group, the others of another; three share a room. */
    private void fleet(Cycles cycles) {
        Random random = new Random(7);
        try (Rows rows = duck.fill("cycles")) {
            for (int machine = 0; machine < MACHINES; machine++) {
                register(machine);
                for (int i = 0; i < DAYS * CYCLES_A_DAY; i++) {
                    double day = i / (double) CYCLES_A_DAY;
                    Cycle cycle = cycles.of(machine, day);
                    RowSink row = rows.text(name(machine))
                            .time(FROM.toEpochMilli() + (long) (day * 86_400_000))
                            .flag(true)
                            .number(24 + 3 * Math.sin(day * 2 * Math.PI) + cycle.air() + 0.2 * random.nextGaussian())
                            .text(cycle.source())
                            .text("sensor")
                            .number(45)
                            .number(-15);
                    for (Feature feature : Feature.values()) {
                        switch (feature) {
                            case PULL_DOWN -> judged(row, 170, 10, 10 * (cycle.pullDown() + random.nextGaussian()));
                            case FREEZE -> judged(row, 1200, 30, 30 * random.nextGaussian());
                            case EVAPORATOR_END -> judged(row, -15, 0.5, cycle.probe() + 0.5 * random.nextGaussian());
                            default -> row.none().none().none();
                        }
                    }
                    row.end();
                }
            }
        }
    }

    private static void judged(RowSink row, double expected, double sigma, double off) {
        row.number(expected + off).number(expected).number(sigma);
    }

    private interface Cycles {
        Cycle of(int machine, double day);
    }

    /** How far a cycle is off: in standard deviations, K, K, and where its air is from. */
    private record Cycle(double pullDown, double air, double probe, String source) {
        static final Cycle GOOD = new Cycle(0, 0, 0, "sensor");
    }

    private static String name(int machine) {
        return "ice-" + (machine < 10 ? "0" : "") + machine;
    }

    private void register(int machine) {
        Machine basic = Machine.basic(name(machine), "site-" + machine / 6, "gw-1");
        Machine row = new Machine(
                basic.id(),
                basic.site(),
                basic.gateway(),
                Optional.of("room-" + machine / 3),
                Optional.of(machine < MACHINES / 2 ? "kind-a" : "kind-b"),
                basic.serial(),
                basic.kind(),
                basic.condenserCooling(),
                basic.ratedKgPerDay(),
                basic.binKg(),
                basic.refrigerant(),
                basic.freezeEndsBy(),
                basic.harvestEndsBy(),
                basic.fillEndsBy(),
                basic.evaporatorProbeAt(),
                basic.limits(),
                basic.drainKind(),
                basic.startDelaySeconds(),
                basic.place(),
                basic.care(),
                basic.installed(),
                basic.lampInstalled(),
                basic.warrantyUntil(),
                basic.build());
        duck.run("insert into records values (from_hex("
                + Duck.literal(HexFormat.of().formatHex(SiteLogCodec.encode(new SiteRecord.Registered(FROM, row))))
                + "), 'register', timestamp '2026-03-01 00:00:00', " + machine + ")");
    }

    private FleetReport look() {
        return FleetLook.at(duck, Duration.ofDays(DAYS), Duration.ofDays(14), (done, all) -> {});
    }

    private static Scope scope(FleetReport report, Scope.Part part) {
        return report.scopes().stream()
                .filter(each -> each.part() == part)
                .findFirst()
                .orElseThrow();
    }

    private static List<Scope.LeftOut> leftOut(FleetReport report, Scope.Part part) {
        return scope(report, part).leftOut();
    }

    @Test
    void goodFleet_nothingIsOff() {
        fleet((machine, day) -> Cycle.GOOD);

        FleetReport report = look();

        assertThat(report.machines()).isEqualTo(MACHINES);
        assertThat(report.judged()).isEqualTo(MACHINES);
        assertThat(report.unfit()).isEmpty();
        assertThat(report.sensors()).isEmpty();
        assertThat(report.groups()).isEmpty();
        assertThat(report.scopes())
                .as("nothing to leave out")
                .allSatisfy(scope -> assertThat(scope.looked()).isEqualTo(MACHINES))
                .extracting(Scope::part)
                .containsExactly(Scope.Part.values());
        // of a normal distribution 95.45 % are within two standard deviations
        assertThat(report.fits())
                .extracting(FleetReport.FeatureFit::feature)
                .containsExactly(Feature.PULL_DOWN, Feature.FREEZE, Feature.EVAPORATOR_END);
        assertThat(report.fits()).allSatisfy(fit -> assertThat(fit.withinTwo()).isCloseTo(0.9545, within(0.01)));
    }

    @Test
    void machinesThatAreOff_areToldByWhetherAnAlertSaysSo() {
        fleet((machine, day) ->
                machine == 3 || machine == 17 ? new Cycle(day < 40 ? 0 : 2.5, 0, 0, "sensor") : Cycle.GOOD);
        duck.run("insert into alerts values ('ice-17', 'slow-pull-down', timestamp '2026-04-15 00:00:00', null),"
                + " ('ice-03', 'cleaning-due', timestamp '2026-04-15 00:00:00', null),"
                + " ('ice-03', 'slow-pull-down', timestamp '2026-03-02 00:00:00', timestamp '2026-03-09 00:00:00')");

        FleetReport report = look();

        assertThat(report.unfit()).extracting(Unfit::machine).containsExactlyInAnyOrder("ice-03", "ice-17");
        assertThat(report.unfit()).allSatisfy(each -> {
            assertThat(each.feature()).isEqualTo(Feature.PULL_DOWN);
            assertThat(each.median()).isCloseTo(2.5, within(0.3));
            assertThat(each.alerts())
                    .isEqualTo(each.machine().equals("ice-17") ? List.of("slow-pull-down") : List.of());
        });
        assertThat(report.unexplained()).isEqualTo(1);
        assertThat(report.fits().get(0).machines()).as("without an alert").isEqualTo(MACHINES - 1);
        assertThat(report.groups()).as("one of twelve is no kind").isEmpty();
        StringWriter text = new StringWriter();
        FleetText.print(report, new PrintWriter(text));
        assertThat(text.toString())
                .contains("Of 2 it no longer fits (8.3 %): 1 with an alert that says so, 1 without.")
                .contains("ice-03", ": no alert", ": slow-pull-down", "None has changed.");
    }

    @Test
    void sensorsThatChange_areTold_andAFaultIsNone() {
        fleet((machine, day) -> switch (machine) {
            case 4 -> new Cycle(0, 2.4 * day / DAYS, 0, "sensor");
            case 8 -> new Cycle(0, 0, -2 * day / DAYS, "sensor");
            case 13 -> new Cycle(0, 0, 0, day < 54 ? "sensor" : "condenser-at-rest");
            // colder and slower at once: less refrigerant, not the probe
            case 20 -> new Cycle(4 * day / DAYS, 0, -2 * day / DAYS, "sensor");
            default -> Cycle.GOOD;
        });

        assertThat(look().sensors())
                .extracting(SensorChange::machine, SensorChange::change, SensorChange::channel)
                .containsExactly(
                        tuple("ice-13", Change.SILENT, "ambient_temperature"),
                        tuple("ice-04", Change.APART_FROM_ROOM, "ambient_temperature"),
                        tuple("ice-08", Change.PROBE_MOVES, "evaporator_temperature"));
        assertThat(look().sensors().get(1).amount()).isCloseTo(2.4, within(0.3));
        assertThat(look().sensors().get(1).low()).isLessThan(2.4);
        assertThat(look().sensors().get(1).high()).isGreaterThan(2.3);
        assertThat(look().sensors().get(2).amount()).isCloseTo(-2, within(0.3));
    }

    @Test
    void groupThatIsAnotherKind_isTold() {
        fleet((machine, day) -> machine >= MACHINES / 2 ? new Cycle(0.9, 0, 0, "sensor") : Cycle.GOOD);

        assertThat(look().groups()).extracting(GroupDiffers::modelGroup).containsExactlyInAnyOrder("kind-a", "kind-b");
        assertThat(look().groups()).allSatisfy(each -> {
            assertThat(each.feature()).isEqualTo(Feature.PULL_DOWN);
            assertThat(each.machines()).isEqualTo(12);
            assertThat(Math.abs(each.median() - each.others())).isCloseTo(0.9, within(0.2));
        });
        assertThat(look().unfit()).as("less than what is off").isEmpty();
    }

    /** Cycles that are taken away afterwards make each reason once. */
    @Test
    void whatIsLeftOut_isToldWithItsReason() {
        fleet((machine, day) -> new Cycle(0, 0, 0, machine == 6 ? "weather" : "sensor"));
        String lastDays = FleetLook.time(FROM.plus(Duration.ofDays(DAYS - 15)));
        String lastWeek = FleetLook.time(FROM.plus(Duration.ofDays(DAYS - 7)));
        duck.run("delete from cycles where machine = 'ice-00'");
        duck.run("delete from cycles where machine = 'ice-01' and freeze_start >= " + lastDays);
        duck.run("update cycles set pull_down_sigma = null, freeze_sigma = null, evaporator_end_sigma = null,"
                + " evaporator_end_expected = null where machine = 'ice-02'");
        duck.run("delete from cycles where machine = 'ice-03' and freeze_start between " + lastDays + " and "
                + FleetLook.time(FROM.plus(Duration.ofDays(DAYS - 3))));
        duck.run("delete from cycles where machine = 'ice-23' and freeze_start < " + lastWeek);
        register(24);

        FleetReport report = look();

        assertThat(report.scopes())
                .allSatisfy(scope -> assertThat(scope.looked()
                                + scope.leftOut().stream()
                                        .mapToInt(each -> each.machines().size())
                                        .sum())
                        .as("known = looked + left out, of %s", scope.part())
                        .isEqualTo(MACHINES + 1));
        assertThat(leftOut(report, Scope.Part.EXPECTATIONS))
                .containsExactly(
                        new Scope.LeftOut(Scope.Reason.NO_CYCLE, List.of("ice-00", "ice-24")),
                        new Scope.LeftOut(Scope.Reason.NO_RECENT_CYCLE, List.of("ice-01")),
                        new Scope.LeftOut(Scope.Reason.NOT_LEARNED, List.of("ice-02")),
                        new Scope.LeftOut(Scope.Reason.FEW_CYCLES, List.of("ice-03")));
        assertThat(scope(report, Scope.Part.EXPECTATIONS).looked()).isEqualTo(report.judged());
        assertThat(leftOut(report, Scope.Part.SILENT))
                .containsExactly(
                        new Scope.LeftOut(Scope.Reason.NO_CYCLE, List.of("ice-00", "ice-24")),
                        new Scope.LeftOut(Scope.Reason.FEW_CYCLES, List.of("ice-01", "ice-03")),
                        new Scope.LeftOut(Scope.Reason.NO_BEFORE, List.of("ice-23")));
        // of the room of 0, 1 and 2 two are left, as of that of 6, 7 and 8; in that of 21, 22 and 23 there are three
        // for a week
        assertThat(leftOut(report, Scope.Part.APART_FROM_ROOM))
                .containsExactly(
                        new Scope.LeftOut(Scope.Reason.NO_CYCLE, List.of("ice-00", "ice-24")),
                        new Scope.LeftOut(Scope.Reason.NO_SENSOR, List.of("ice-06")),
                        new Scope.LeftOut(Scope.Reason.ALONE, List.of("ice-01", "ice-02", "ice-07", "ice-08")),
                        new Scope.LeftOut(Scope.Reason.FEW_DAYS, List.of("ice-21", "ice-22", "ice-23")));
        assertThat(leftOut(report, Scope.Part.PROBE_MOVES))
                .containsExactly(
                        new Scope.LeftOut(Scope.Reason.NO_CYCLE, List.of("ice-00", "ice-24")),
                        new Scope.LeftOut(Scope.Reason.NO_SENSOR, List.of("ice-02")),
                        new Scope.LeftOut(Scope.Reason.FEW_DAYS, List.of("ice-23")));
        assertThat(leftOut(report, Scope.Part.GROUPS))
                .containsExactly(new Scope.LeftOut(
                        Scope.Reason.NOT_JUDGED, List.of("ice-00", "ice-01", "ice-02", "ice-03", "ice-24")));
        StringWriter text = new StringWriter();
        FleetText.print(report, new PrintWriter(text));
        assertThat(text.toString())
                .contains("Expectations: 20 machines looked at, left out: 2 (no complete cycle in the whole history:"
                        + " ice-00, ice-24), 1 (no complete cycle in these days: ice-01)");
    }

    @Test
    void groupsThatAreTooSmall_areLeftOut() {
        fleet((machine, day) -> Cycle.GOOD);
        duck.run("delete from cycles where machine < 'ice-08'");
        assertThat(leftOut(look(), Scope.Part.GROUPS))
                .extracting(Scope.LeftOut::reason)
                .containsExactly(Scope.Reason.NOT_JUDGED, Scope.Reason.SMALL_GROUP, Scope.Reason.NO_OTHERS);
    }

    @Test
    void progress_goesToItsEnd_andWhatItThrowsEndsTheLook() {
        fleet((machine, day) -> Cycle.GOOD);
        List<Long> told = new ArrayList<>();

        FleetLook.at(duck, Duration.ofDays(DAYS), Duration.ofDays(14), (done, all) -> told.add(all - done));

        assertThat(told).hasSizeGreaterThan(20).isSortedAccordingTo(Comparator.reverseOrder());
        assertThat(told).doesNotHaveDuplicates().endsWith(0L);
        assertThatThrownBy(() -> FleetLook.at(duck, Duration.ofDays(DAYS), Duration.ofDays(14), (done, all) -> {
                    if (done == 7) {
                        throw new IllegalStateException("not wanted any more");
                    }
                }))
                .hasMessage("not wanted any more");
    }

    @Test
    void noCycleYet_saysSo() {
        assertThatThrownBy(this::look)
                .isInstanceOf(HistoryException.class)
                .hasMessageContaining("no complete cycle yet");
    }
}
