package dev.rimecast.dashboard.fake;

import static dev.rimecast.dashboard.fake.FakeAlerts.cause;
import static dev.rimecast.dashboard.fake.FakeAlerts.measure;

import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/** Fleets to test with: 24 machines with every kind of trouble, or thousands. */
public final class FakeFleets {
    private static final List<String> NAMES = List.of(
            "Quay Street Canteen",
            "Larch Hotel",
            "Mill Bar",
            "Hillside Ward Block",
            "Station Kitchen",
            "Orchard School");

    private FakeFleets() {}

    /** 24 machines on 6 sites; seven have something open, and one gateway is silent. */
    public static FakeFleet small(InstantSource clock, FakeChanges changes) {
        FakeFleet fleet = new FakeFleet(clock, changes, sites(), machines(24));
        FakeAlerts make = new FakeAlerts(clock.instant());
        fleet.put(make.alert(
                "ice-0014",
                "site-3",
                NAMES.get(2),
                Condition.STOPPED_BY_PROTECTION,
                Stage.STOPPED,
                Priority.URGENT,
                make.ago(2),
                List.of(cause(
                        Cause.FAN_FAILED,
                        0.91,
                        List.of(
                                "Condensing temperature rose by 31 K within one freeze.",
                                "It fell slowly after the stop."),
                        List.of())),
                measure("condensing-temperature", "Cel", 67.2, 40.1, 65),
                Optional.empty(),
                "Stopped at 67.2 °C condensing temperature, limit 65 °C."));
        fleet.put(make.alert(
                "ice-0007",
                "site-2",
                NAMES.get(1),
                Condition.DRAIN_PUMP_OVERRUN,
                Stage.EARLY,
                Priority.HIGH,
                make.ago(20),
                List.of(
                        cause(Cause.DRAIN_BLOCKED, 0.52, List.of("Runs grew over 9 days."), List.of()),
                        cause(Cause.DRAIN_PUMP_FAILED, 0.31, List.of(), List.of("The pump still empties the tank."))),
                measure("drain-level", "s", 5.4, 2.8, 6),
                Optional.of(Duration.ofHours(20)),
                "The level signal lasts 5.4 s, usual 2.8 s, limit 6 s."));
        fleet.put(FakeInquiries.asked(make.alert(
                "ice-0003",
                "site-1",
                NAMES.get(0),
                Condition.RISING_CONDENSING_TEMPERATURE,
                Stage.EARLY,
                Priority.MEDIUM,
                make.ago(75),
                List.of(
                        cause(
                                Cause.AIRFLOW_RESTRICTED,
                                0.78,
                                List.of(
                                        "Split is 8.4 K over what it should be at this room temperature.",
                                        "It grew slowly over 21 days.",
                                        "Harvest is a little shorter than expected."),
                                List.of("Two other machines in the room are unchanged.")),
                        cause(Cause.FAN_WEAK, 0.14, List.of("Split is high."), List.of("No step was seen.")),
                        cause(Cause.AIR_IN_CIRCUIT_OR_OVERCHARGED, 0.08, List.of(), List.of("No work was recorded."))),
                measure("split", "K", 22.8, 14.4, 30),
                Optional.of(Duration.ofDays(5)),
                "Condenser stands 22.8 K above the room, 14.4 K expected, rising 0.4 K a day.")));
        fleet.put(make.alert(
                "ice-0003",
                "site-1",
                NAMES.get(0),
                Condition.LONG_FREEZE,
                Stage.EARLY,
                Priority.LOW,
                make.ago(30),
                List.of(cause(Cause.AIRFLOW_RESTRICTED, 0.64, List.of("Comes with the split."), List.of())),
                measure("freeze", "s", 1390, 1240, 3600),
                Optional.empty(),
                "A freeze takes 23 min 10 s, 20 min 40 s expected."));
        fleet.put(make.alert(
                "ice-0011",
                "site-4",
                NAMES.get(3),
                Condition.SLOW_PULL_DOWN,
                Stage.EARLY,
                Priority.MEDIUM,
                make.ago(50),
                List.of(
                        cause(Cause.LOW_CHARGE, 0.44, List.of("Split is 3.1 K low."), List.of()),
                        cause(Cause.COMPRESSOR_WEAK, 0.41, List.of("Freeze is 22 % longer."), List.of())),
                measure("pull-down", "s", 262, 168, 900),
                Optional.of(Duration.ofDays(16)),
                "0 °C is reached after 262 s, 168 s expected in these conditions."));
        fleet.put(FakeAlerts.seen(
                make.alert(
                        "ice-0018",
                        "site-5",
                        NAMES.get(4),
                        Condition.LONG_HARVEST,
                        Stage.EARLY,
                        Priority.LOW,
                        make.ago(240),
                        List.of(cause(Cause.SCALE, 0.66, List.of("Freeze shorter, harvest longer."), List.of())),
                        measure("harvest", "s", 288, 211, 420),
                        Optional.of(Duration.ofDays(3)),
                        "Ice comes off after 288 s, 211 s expected."),
                "Noor",
                make.ago(200),
                "Descaling planned with the school's visit."));
        fleet.put(FakeAlerts.over(
                make.alert(
                        "ice-0020",
                        "site-5",
                        NAMES.get(4),
                        Condition.MACHINE_SILENT,
                        Stage.EARLY,
                        Priority.MEDIUM,
                        make.ago(30),
                        List.of(),
                        Optional.empty(),
                        Optional.empty(),
                        "No reading for 40 minutes while its gateway was online."),
                make.ago(26)));
        fleet.put(make.alert(
                "ice-0022",
                "site-6",
                NAMES.get(5),
                Condition.LOW_OUTPUT,
                Stage.EARLY,
                Priority.LOW,
                make.ago(8),
                List.of(),
                Optional.empty(),
                Optional.empty(),
                "Makes 38 kg/24 h, 46 kg/24 h expected in these conditions."));
        fleet.put(make.alert(
                "gw-6",
                "site-6",
                NAMES.get(5),
                Condition.GATEWAY_SILENT,
                Stage.EARLY,
                Priority.MEDIUM,
                make.ago(1),
                List.of(cause(
                        Cause.GATEWAY_LINK_DOWN, 0.8, List.of("All four machines went silent at once."), List.of())),
                Optional.empty(),
                Optional.empty(),
                "Nothing from gateway gw-6 for 22 minutes."));
        putAside(fleet, make);
        return fleet;
    }

    /** The same, with planned care that is due on two sites: of one of them, the date is past. */
    public static FakeFleet careDue(InstantSource clock, FakeChanges changes) {
        FakeFleet fleet = small(clock, changes);
        FakeAlerts make = new FakeAlerts(clock.instant());
        for (int i = 1; i <= 3; i++) {
            fleet.put(care(make, i, 1, Condition.AIR_FILTER_DUE, 20, "The air filter was last washed 110 days ago."));
        }
        fleet.put(care(make, 2, 1, Condition.CLEANING_DUE, 3, "It was last cleaned 183 days ago."));
        // Its date is past at any hour of the day.
        fleet.put(make.alert(
                name(3),
                "site-1",
                NAMES.get(0),
                Condition.DRAIN_PUMP_OVERRUN,
                Stage.EARLY,
                Priority.HIGH,
                make.ago(90),
                List.of(),
                Optional.empty(),
                Optional.of(Duration.ofHours(-60)),
                "The drain level signal takes 5.2 s, 2.1 s expected."));
        fleet.put(care(make, 13, 4, Condition.WATER_FILTER_DUE, 2, "The water filter was last changed 182 days ago."));
        fleet.put(care(make, 14, 4, Condition.WATER_FILTER_DUE, 2, "The water filter was last changed 182 days ago."));
        return fleet;
    }

    private static AlertView care(FakeAlerts make, int i, int site, Condition due, int daysAgo, String summary) {
        return make.alert(
                name(i),
                "site-" + site,
                NAMES.get(site - 1),
                due,
                Stage.EARLY,
                Priority.LOW,
                make.ago(24L * daysAgo),
                List.of(),
                Optional.empty(),
                Optional.empty(),
                summary);
    }

    /** Alerts that don't lead: paused, not counted, and over but to be released. */
    private static void putAside(FakeFleet fleet, FakeAlerts make) {
        AlertView freeze = make.alert(
                "ice-0003",
                "site-1",
                NAMES.get(0),
                Condition.LONG_HARVEST,
                Stage.EARLY,
                Priority.LOW,
                make.ago(28),
                List.of(),
                Optional.empty(),
                Optional.empty(),
                "Ice comes off after 240 s, 211 s expected.");
        fleet.hold(freeze, FakeHolds.paused(freeze, make.ago(0)));
        AlertView output = make.alert(
                "ice-0007",
                "site-2",
                NAMES.get(1),
                Condition.LOW_OUTPUT,
                Stage.EARLY,
                Priority.LOW,
                make.ago(9),
                List.of(),
                Optional.empty(),
                Optional.empty(),
                "Makes 38 kg/24 h, 46 kg/24 h expected in these conditions.");
        fleet.hold(output, FakeHolds.binFull(output, make.ago(1)));
        fleet.put(FakeAlerts.latched(
                make.alert(
                        "ice-0020",
                        "site-5",
                        NAMES.get(4),
                        Condition.STOPPED_BY_PROTECTION,
                        Stage.STOPPED,
                        Priority.LOW,
                        make.ago(6),
                        List.of(),
                        Optional.empty(),
                        Optional.empty(),
                        "Stopped at 66.0 °C condensing temperature, limit 65 °C."),
                make.ago(5)));
    }

    /** Many machines; every hundredth has a dirty condenser, with more or less time left. */
    public static FakeFleet large(InstantSource clock, FakeChanges changes, int count) {
        return large(clock, changes, count, 100);
    }

    /** The same with so many machines to one dirty condenser. */
    public static FakeFleet large(InstantSource clock, FakeChanges changes, int count, int every) {
        FakeFleet fleet = new FakeFleet(clock, changes, sites(), machines(count));
        FakeAlerts make = new FakeAlerts(clock.instant());
        for (int i = every; i <= count; i += every) {
            fleet.put(make.alert(
                    name(i),
                    "site-1",
                    NAMES.get(0),
                    Condition.RISING_CONDENSING_TEMPERATURE,
                    Stage.EARLY,
                    Priority.MEDIUM,
                    make.ago(75),
                    List.of(cause(Cause.AIRFLOW_RESTRICTED, 0.78, List.of(), List.of())),
                    measure("split", "K", 22.8, 14.4, 30),
                    Optional.of(Duration.ofHours(i / 20)),
                    "Condenser stands 22.8 K above the room, 14.4 K expected."));
        }
        return fleet;
    }

    /** Everything that is open has been seen, and is over. */
    public static void end(FakeFleet fleet, Instant at) {
        for (AlertView alert : fleet.alerts(AlertFilter.OPEN, Integer.MAX_VALUE)) {
            fleet.put(FakeAlerts.over(FakeAlerts.seen(alert, "Ana", at, ""), at));
        }
    }

    /** Nothing registered yet. */
    public static FakeFleet empty(InstantSource clock, FakeChanges changes) {
        return new FakeFleet(clock, changes, List.of(), List.of());
    }

    private static List<Site> sites() {
        List<Site> sites = new ArrayList<>();
        for (int i = 0; i < NAMES.size(); i++) {
            sites.add(new Site(
                    "site-" + (i + 1),
                    NAMES.get(i),
                    ZoneId.of("Europe/Oslo"),
                    Optional.empty(),
                    Optional.empty(),
                    Set.of(),
                    Optional.of("kitchen desk"),
                    Optional.empty(),
                    OptionalDouble.empty(),
                    OptionalDouble.empty()));
        }
        return sites;
    }

    private static List<Machine> machines(int count) {
        List<Machine> machines = new ArrayList<>();
        for (int i = 1; i <= count; i++) {
            machines.add(machine(i, count));
        }
        return machines;
    }

    private static Machine machine(int i, int count) {
        int site = 1 + (i - 1) * NAMES.size() / count;
        Machine basic = Machine.basic(name(i), "site-" + site, "gw-" + site);
        return new Machine(
                basic.id(),
                basic.site(),
                basic.gateway(),
                Optional.of(i % 2 == 0 ? "bar" : "kitchen"),
                Optional.of("cube-50"),
                Optional.empty(),
                basic.kind(),
                basic.condenserCooling(),
                basic.ratedKgPerDay(),
                basic.binKg(),
                Optional.of("R290"),
                basic.freezeEndsBy(),
                basic.harvestEndsBy(),
                basic.fillEndsBy(),
                basic.evaporatorProbeAt(),
                basic.limits(),
                Machine.DrainKind.PUMP,
                basic.startDelaySeconds(),
                basic.place(),
                basic.care(),
                Optional.of(java.time.LocalDate.of(2023, 4, 12)),
                Optional.empty(),
                Optional.empty(),
                Machine.Build.NOT_SAID);
    }

    private static String name(int i) {
        return String.format(java.util.Locale.ROOT, "ice-%04d", i);
    }
}
