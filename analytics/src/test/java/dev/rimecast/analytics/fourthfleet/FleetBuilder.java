package dev.rimecast.analytics.fourthfleet;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Draws the sites of a fleet and the machines in them; faults are dealt afterwards. */
final class FleetBuilder {
    private static final double[] OPENS = {7, 10, 11, 6.5};
    private static final double[] CLOSES = {22, 24, 26, 21};
    private static final double DAY_SECONDS = 86_400;

    private final FourthFleetPlan plan;
    private final Chance chance;
    /** Channels have a chance of their own, so that fleets of one seed differ in nothing else. */
    private final Chance channelChance;

    private int machines;

    FleetBuilder(FourthFleetPlan plan, Chance chance, Chance channelChance) {
        this.plan = plan;
        this.chance = chance;
        this.channelChance = channelChance;
    }

    List<SiteDraft> sites() {
        List<SiteDraft> sites = new ArrayList<>();
        for (int i = 0; i < plan.sites(); i++) {
            sites.add(site(String.format("site-%02d", i + 1)));
        }
        return sites;
    }

    private SiteDraft site(String id) {
        Climate climate = Climate.values()[chance.below(3)];
        int type = chance.below(OPENS.length);
        double opens = OPENS[type] + chance.below(3) * .5;
        double closes = CLOSES[type] - chance.below(3) * .5;
        Optional<DayOfWeek> closed =
                chance.hit(.28) ? Optional.of(DayOfWeek.of(1 + chance.below(7))) : Optional.empty();
        Opening opening = new Opening(opens, closes, closed, climate.hoursEast);
        boolean offAtNight = chance.hit(.14);
        boolean gatewayOffToo = chance.hit(.4);
        int gateways = chance.hit(.15) ? 2 : 1;
        int count = 1 + (chance.hit(.7) ? 1 : 0) + (chance.hit(.45) ? 1 : 0) + (chance.hit(.25) ? 1 : 0);
        SiteDraft site = new SiteDraft(
                id,
                climate,
                opening,
                offAtNight,
                offAtNight && gatewayOffToo,
                dayUse(),
                gaps(gateways),
                rooms(count >= 3 && chance.hit(.6) ? 2 : 1));
        MachineGroup usual = group();
        for (int i = 0; i < count; i++) {
            site.machines.add(machine(site, i, chance.hit(.6) ? usual : group()));
        }
        return site;
    }

    private List<Double> dayUse() {
        List<Double> use = new ArrayList<>();
        double week = 1;
        for (int day = 0; day < plan.days() + 2; day++) {
            week = .8 * week + .2 + chance.gauss(.05);
            use.add(Math.exp(chance.gauss(.16)) * Math.max(.6, Math.min(1.4, week)));
        }
        return use;
    }

    private List<List<Gateway.Gap>> gaps(int gateways) {
        List<List<Gateway.Gap>> all = new ArrayList<>();
        for (int i = 0; i < gateways; i++) {
            double meanDays = chance.between(5, 18);
            List<Gateway.Gap> gaps = new ArrayList<>();
            double at = plan.start() + chance.waiting(meanDays) * DAY_SECONDS;
            while (at < plan.end()) {
                double seconds = Math.min(9 * 3600, Math.exp(Math.log(1500) + chance.gauss(1.2)));
                gaps.add(new Gateway.Gap((long) (at * 1000), (long) ((at + seconds) * 1000)));
                at += seconds + chance.waiting(meanDays) * DAY_SECONDS;
            }
            all.add(gaps);
        }
        return all;
    }

    private List<Room> rooms(int count) {
        List<Room> rooms = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            rooms.add(new Room(Room.Kind.values()[chance.below(4)], i > 0, chance.split()));
        }
        return rooms;
    }

    private MachineGroup group() {
        double all = 0;
        for (MachineGroup group : MachineGroup.values()) {
            all += group.care.weight();
        }
        double u = chance.unit() * all;
        for (MachineGroup group : MachineGroup.values()) {
            u -= group.care.weight();
            if (u < 0) {
                return group;
            }
        }
        return MachineGroup.JET_50;
    }

    private MachineDraft machine(SiteDraft site, int index, MachineGroup group) {
        machines++;
        int room = index % site.rooms.size();
        double binKg = group.ratedKgPerDay * chance.between(.35, .55);
        String serial = String.format("x%06d", chance.below(1_000_000));
        LocalDate installed = LocalDate.of(2017 + chance.below(7), 1 + chance.below(12), 15);
        return new MachineDraft(
                String.format("m%03d", machines),
                site,
                room,
                index % site.gaps.size(),
                new Traits(group, chance),
                care(site.rooms.get(room).kind),
                new MachineDraft.Use(binKg, binKg * chance.between(.3, 1), chance.between(.32, .92)),
                new MachineDraft.Papers(serial, installed),
                plan.channels().draw(group, channelChance),
                cleanings(site.opening, group),
                chance.hit(.92),
                group.hasDrainPump ? chance.below(3) * 2 : 0);
    }

    private MachineDraft.Care care(Room.Kind kind) {
        double dust = chance.between(.0001, .0006) * (kind == Room.Kind.KITCHEN ? 1.6 : 1);
        double washEvery = chance.between(12, 40);
        return new MachineDraft.Care(
                chance.hit(.6),
                washEvery,
                plan.start() + (long) (chance.between(2, washEvery) * DAY_SECONDS),
                dust,
                chance.between(.0002, .0010),
                dust * chance.between(0, 30),
                chance.between(0, .05));
    }

    private List<Long> cleanings(Opening opening, MachineGroup group) {
        List<Long> cleanings = new ArrayList<>();
        double every = group.care.cleaningDays() * chance.between(.6, 1.1);
        long t = plan.start() + (long) (chance.between(4, every) * DAY_SECONDS);
        while (t < plan.end()) {
            long at = opening.at(t, opening.opens() - chance.between(-1.5, 1)) + chance.below(1800);
            cleanings.add(at);
            t = at + (long) (every * chance.between(.85, 1.15) * DAY_SECONDS);
        }
        return cleanings;
    }
}
