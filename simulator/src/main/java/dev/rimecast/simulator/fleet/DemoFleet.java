package dev.rimecast.simulator.fleet;

import static dev.rimecast.simulator.fleet.ChannelSet.DURATIONS;
import static dev.rimecast.simulator.fleet.ChannelSet.FULL;
import static dev.rimecast.simulator.fleet.ChannelSet.TEMPERATURES;
import static dev.rimecast.simulator.fleet.ChannelSet.TEMPERATURES_AND_PHASE;
import static dev.rimecast.simulator.fleet.Model.CUBE_25;
import static dev.rimecast.simulator.fleet.Model.CUBE_50;
import static dev.rimecast.simulator.fleet.Model.CUBE_80;
import static dev.rimecast.simulator.fleet.Model.SLAB_120;
import static dev.rimecast.simulator.fleet.Model.TIMED_40;

import dev.rimecast.simulator.place.Climate;
import dev.rimecast.simulator.place.SiteKind;
import dev.rimecast.telemetry.machine.Site;
import java.time.DayOfWeek;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/** The fleet of the invented firm Northlight Ice Care: 24 machines on six sites, and the 45 days before now. */
public final class DemoFleet {
    /** How far its history goes back. */
    public static final Duration HISTORY = Duration.ofDays(45);

    private static final ZoneId ZONE = ZoneOffset.UTC;
    /** Late spring, whatever the date: a demo must show the same in January as in July. */
    private static final int ENDS_ON_DAY_OF_YEAR = 140;

    private DemoFleet() {}

    /**
     * The plan at a sampling of a minute.
     *
     * @param now where its history ends; what has begun by then goes on
     */
    public static FleetPlan plan(Instant now) {
        return plan(now, Duration.ofSeconds(60));
    }

    /** The same at another sampling. */
    public static FleetPlan plan(Instant now, Duration sampling) {
        Instant to = now.truncatedTo(ChronoUnit.MINUTES);
        Instant from = to.minus(HISTORY);
        int day = to.atZone(ZONE).getDayOfYear();
        Climate climate = new Climate(4, ENDS_ON_DAY_OF_YEAR - day);
        return new FleetPlan(
                20_260_504,
                from,
                to,
                sampling,
                sites(climate, to),
                DemoFaults.faults(to),
                DemoFaults.events(to),
                List.of(new FleetPlan.Outage(
                        "gw-pine-court", to.minus(Duration.ofHours(100)), to.minus(Duration.ofHours(76)))));
    }

    private static List<SitePlan> sites(Climate climate, Instant to) {
        List<SitePlan> sites = new ArrayList<>();
        sites.add(site(
                "harbour-hotel",
                "Harbour Hotel, Quay Bar",
                SiteKind.BAR,
                climate,
                new Fleetlet("harbour-hotel")
                        .add(CUBE_50, FULL, 0.56)
                        .add(CUBE_50, FULL, 0.54)
                        .add(CUBE_50, FULL, 0.52)
                        .add(CUBE_25, TEMPERATURES, 0.60)
                        .add(CUBE_80, FULL, 0.52)));
        sites.add(site(
                "hillside-ward",
                "Hillside Hospital, Ward Kitchen",
                SiteKind.WARD,
                climate,
                new Fleetlet("hillside-ward")
                        .add(CUBE_50, FULL, 0.55)
                        .add(CUBE_80, FULL, 0.60)
                        .add(CUBE_50, FULL, 0.58)
                        .add(CUBE_25, TEMPERATURES_AND_PHASE, 0.62)
                        .add(TIMED_40, FULL, 0.52)));
        sites.add(site(
                "mill-canteen",
                "Mill Lane Canteen",
                SiteKind.CANTEEN,
                climate,
                new Fleetlet("mill-canteen")
                        .add(CUBE_50, FULL, 0.55)
                        .add(SLAB_120, FULL, 0.48)
                        .add(CUBE_50, DURATIONS, 0.52)
                        .add(TIMED_40, TEMPERATURES_AND_PHASE, 0.45)));
        sites.add(site(
                "lantern-kitchen",
                "The Lantern, Kitchen",
                SiteKind.KITCHEN,
                climate,
                new Fleetlet("lantern-kitchen")
                        .add(CUBE_50, FULL, 0.58)
                        .add(CUBE_50, FULL, 0.60)
                        .add(SLAB_120, FULL, 0.55)
                        .add(CUBE_25, TEMPERATURES, 0.58)));
        sites.add(hot(
                site(
                        "north-depot",
                        "North Depot, Plant Room",
                        SiteKind.PLANT_ROOM,
                        climate,
                        new Fleetlet("north-depot")
                                .add(CUBE_80, FULL, 0.55)
                                .add(CUBE_50, FULL, 0.55)
                                .add(SLAB_120, DURATIONS, 0.50)),
                to));
        sites.add(site(
                "pine-court",
                "Pine Court Care Home",
                SiteKind.WARD,
                climate,
                new Fleetlet("pine-court")
                        .add(CUBE_50, FULL, 0.55)
                        .add(CUBE_25, TEMPERATURES_AND_PHASE, 0.58)
                        .add(TIMED_40, FULL, 0.50)));
        return sites;
    }

    /** A room that has been too warm for twelve days: no fault of any machine. */
    private static SitePlan hot(SitePlan plan, Instant to) {
        SitePlan.HeatWave wave = new SitePlan.HeatWave(to.minus(Duration.ofDays(12)), to.plus(Duration.ofDays(20)), 9);
        return new SitePlan(plan.site(), plan.kind(), plan.climate(), plan.machines(), List.of(wave));
    }

    private static SitePlan site(String id, String name, SiteKind kind, Climate climate, Fleetlet fleet) {
        Site site = new Site(
                id,
                name,
                ZONE,
                Optional.of(LocalTime.of(7, 0)),
                Optional.of(LocalTime.of(23, 0)),
                kind == SiteKind.CANTEEN ? Set.of(DayOfWeek.SATURDAY, DayOfWeek.SUNDAY) : Set.of(),
                Optional.empty(),
                Optional.of("en"),
                OptionalDouble.of(fleet.kgPerDay()),
                OptionalDouble.of(24));
        return new SitePlan(site, kind, climate, fleet.machines(), List.of());
    }

    /** The machines of one site, behind its one gateway. */
    private static final class Fleetlet {
        private final String site;
        private final List<MachinePlan> machines = new ArrayList<>();

        Fleetlet(String site) {
            this.site = site;
        }

        Fleetlet add(Model model, ChannelSet channels, double load) {
            String id = site + "-" + (machines.size() + 1);
            machines.add(model.machine(id, site, "gw-" + site, channels, load));
            return this;
        }

        List<MachinePlan> machines() {
            return machines;
        }

        double kgPerDay() {
            return Math.rint(
                    machines.stream().mapToDouble(MachinePlan::kgPerDay).sum());
        }
    }
}
